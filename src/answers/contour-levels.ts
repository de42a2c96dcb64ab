const STEPS = [1, 2, 2.5, 5, 10] as const;

/** Round numbers over a range, about `count` of them. */
export function linearTicks(from: number, to: number, count: number): number[] {
  const [low, high] = from < to ? [from, to] : [to, from];
  if (!(high > low)) return [low];
  const rough = (high - low) / Math.max(1, count);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * STEPS.find((each) => each * power >= rough * 0.999)!;
  const ticks: number[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high * (1 + 1e-12) + step * 1e-9; k++)
    ticks.push(k * step);
  return ticks;
}

/** Mantissas of levels on a logarithmic colour scale, coarser choices last. */
const MANTISSAS = [
  [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8],
  [1, 1.5, 2, 3, 4, 6, 8],
  [1, 2, 3, 5, 7],
  [1, 2, 5],
  [1, 3],
  [1],
] as const;

/** Round levels that divide a range into at most `most` + 1 bands. */
export function levelsOver(low: number, high: number, logarithmic: boolean, most: number): number[] {
  if (!(high > low)) return [];
  if (!logarithmic || !(low > 0)) {
    for (let count = most; count > 1; count--) {
      const ticks = linearTicks(low, high, count).filter((level) => level > low && level < high);
      if (ticks.length <= most) return ticks;
    }
    return [];
  }
  if (high / low < 1.6) return levelsOver(low, high, false, most);
  for (const mantissas of MANTISSAS) {
    const levels: number[] = [];
    for (let power = Math.floor(Math.log10(low)); power <= Math.log10(high); power++) {
      for (const each of mantissas) {
        const level = Number((each * 10 ** power).toPrecision(3));
        if (level > low && level < high) levels.push(level);
      }
    }
    if (levels.length <= most) return levels;
  }
  return [];
}
