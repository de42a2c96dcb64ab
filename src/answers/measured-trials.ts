import { valueAs } from '../scenario/operating-point.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { toShown } from '../scenario/units/display.ts';
import type { LoggedTrial } from '../trials/log/logged.ts';
import type { SizeLine } from './point-view.ts';
import { label, tidy } from './text.ts';

/** A measured curve with how it was measured. */
export interface MeasuredLine extends SizeLine {
  readonly method: string;
  /** One standard deviation of the share, where repeats gave it. */
  readonly scatter?: ArrayLike<number>;
}

/** A trial as the page shows it: where it was run, and its size curve where one was measured. */
export interface MeasuredTrial {
  readonly name: string;
  /** Settings and swept numbers, in the units shown. */
  readonly at: Readonly<Record<string, number | string>>;
  readonly line?: MeasuredLine;
}

/** A path with the unit its number is shown in, and the way a speed is stated. */
interface ShownPath {
  readonly path: string;
  readonly shownIn?: string;
  readonly as?: 'shaft' | 'rim';
}

/** Logged trials for a page. */
export function measuredTrials(trials: readonly LoggedTrial[], paths: readonly ShownPath[]): MeasuredTrial[] {
  return trials.map((trial) => ({
    name: label(trial.name, 24),
    at: Object.fromEntries(paths.map((each) => [each.path, shownAt(trial.scenario, each)])),
    ...(trial.sizes ? { line: lineOf(trial) } : {}),
  }));
}

function shownAt(scenario: Scenario, { path, shownIn = '', as }: ShownPath): number | string {
  const value = valueAs(scenario, path, as);
  return typeof value === 'number' ? tidy(toShown(value, shownIn)) : String(value);
}

function lineOf({ name, sizes, repeats }: LoggedTrial): MeasuredLine {
  const { points, method } = sizes!;
  return {
    name: label(name, 24),
    method: `${label(method ?? 'method not stated')}${repeats && repeats > 1 ? `, mean of ${repeats}` : ''}`,
    sizes: points.map(({ size }) => size * 1e6),
    undersize: points.map(({ undersize }) => undersize),
  };
}

/** Settings this close count as the same point. */
const CLOSE = 0.03;

/** Curves measured at or close to a position. */
export function measuredNear(
  trials: readonly MeasuredTrial[],
  at: Readonly<Record<string, number | string>>,
): MeasuredLine[] {
  const close = (a: number | string | undefined, b: number | string) =>
    typeof a === 'number' && typeof b === 'number'
      ? Math.abs(a - b) <= CLOSE * Math.abs(b)
      : a === undefined || a === b;
  return trials.flatMap(({ line, at: there }) =>
    line && Object.entries(there).every(([path, value]) => close(at[path], value)) ? [line] : [],
  );
}
