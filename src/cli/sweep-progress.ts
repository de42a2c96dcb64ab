import { describeProgress, type Progress } from '../sweep/study/progress.ts';

/** Where progress is drawn: standard error, as a rule. */
interface Screen {
  readonly isTTY?: boolean | undefined;
  readonly columns?: number | undefined;
  readonly write: (text: string) => unknown;
}

/** On a terminal, how often the line is drawn anew; in a pipe, how often a line is written [s]. */
const REDRAW = 0.2;
const LINE = 10;

/** A progress line that rewrites itself on a terminal, and plain lines now and then elsewhere. */
interface ProgressLine {
  readonly show: (progress: Progress) => void;
  /** Ends the line, so that what follows starts at the margin. */
  readonly end: () => void;
}

/** A progress line on a screen; on a terminal five times a second, in a pipe every ten seconds. */
export function progressLine(screen: Screen): ProgressLine {
  let shownAt = screen.isTTY ? Number.NEGATIVE_INFINITY : 0;
  let drawn = false;
  const every = screen.isTTY ? REDRAW : LINE;
  return {
    show: (progress) => {
      if (progress.elapsed - shownAt < every) return;
      shownAt = progress.elapsed;
      const text = describeProgress(progress);
      if (screen.isTTY) {
        screen.write(`\r${text.slice(0, (screen.columns ?? 80) - 1)}\u001b[K`);
        drawn = true;
      } else screen.write(`${text}\n`);
    },
    end: () => {
      if (drawn) screen.write('\r\u001b[K');
      drawn = false;
    },
  };
}
