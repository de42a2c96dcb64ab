/** How far a sweep is; counts of points. */
export interface Progress {
  /** Points of this run: all it has to do, and done. */
  readonly total: number;
  readonly done: number;
  /** Points stored by earlier runs. */
  readonly before: number;
  /** Choked points of this run, by reason. */
  readonly choked: Readonly<Record<string, number>>;
  /** Since this run began [s]. */
  readonly elapsed: number;
}

/** Points per second of this run; 0 before the first. */
function rateOf({ done, elapsed }: Progress): number {
  return elapsed > 0 ? done / elapsed : 0;
}

/**
 * One line of progress: share done, rate, time left, what is choked so far.
 *
 * @example `42 %, 420 000 of 1 000 000 points, 51 200/s, 11 s left, choked 3.2 % (load 3.2 %)`
 */
export function describeProgress(progress: Progress): string {
  const { total, done, before } = progress;
  const all = total + before;
  const stored = done + before;
  const rate = rateOf(progress);
  const parts = [
    `${Math.floor((100 * stored) / Math.max(all, 1))} %`,
    `${spaced(stored)} of ${spaced(all)} points`,
    `${spaced(Number(rate.toPrecision(3)))}/s`,
  ];
  if (rate > 0 && done < total) parts.push(`${duration((total - done) / rate)} left`);
  return `${parts.join(', ')}${chokedText(progress)}`;
}

/** `, choked 3.2 % (load 3.0 %, fold 0.2 %)`; nothing where nothing is choked. */
function chokedText({ choked, done }: Progress): string {
  const reasons = Object.entries(choked).filter(([, count]) => count > 0);
  if (reasons.length === 0 || done === 0) return '';
  const share = (count: number): string => `${Number(((100 * count) / done).toPrecision(2))} %`;
  const sum = reasons.reduce((all, [, count]) => all + count, 0);
  const list = reasons.sort((a, b) => b[1] - a[1]).map(([reason, count]) => `${reason} ${share(count)}`);
  return `, choked ${share(sum)} (${list.join(', ')})`;
}

/**
 * Thousands set apart, as people read long counts.
 *
 * @example spaced(1234567) // '1 234 567'
 */
export function spaced(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+(?!\d))/g, ' ');
}

const MINUTE = 60;
const HOUR = 3600;

/**
 * Seconds as people say them: `8 s`, `3 min 20 s`, `2 h 05 min`.
 *
 * @example duration(200) // '3 min 20 s'
 */
export function duration(seconds: number): string {
  const whole = Math.max(1, Math.round(seconds));
  if (whole < MINUTE) return `${whole} s`;
  const two = (n: number): string => String(Math.floor(n)).padStart(2, '0');
  if (whole < HOUR) return `${Math.floor(whole / MINUTE)} min ${two(whole % MINUTE)} s`;
  return `${spaced(Math.floor(whole / HOUR))} h ${two((whole % HOUR) / MINUTE)} min`;
}
