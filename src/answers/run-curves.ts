import type { Scenario } from '../scenario/scenario.ts';
import type { LoggedTrial } from '../trials/log/logged.ts';
import type { SizeLine } from './point-view.ts';
import { type Gate, gatesOf } from './spec-gates.ts';
import { label } from './text.ts';

/** Most runs whose curves are drawn, and points a curve needs to be one. */
const MOST = 12;
const FEWEST_POINTS = 2;
const LONGEST_NAME = 24;

/** Runs with a size curve to draw, as many as are drawn. */
export function drawnRuns(trials: readonly LoggedTrial[]): LoggedTrial[] {
  return trials.filter(({ sizes }) => (sizes?.points.length ?? 0) >= FEWEST_POINTS).slice(0, MOST);
}

/** A run's measured curve under its name. */
export function measuredCurve({ name, sizes }: LoggedTrial): SizeLine {
  const points = sizes!.points;
  return {
    name: label(name, LONGEST_NAME),
    sizes: points.map(({ size }) => size * 1e6),
    undersize: points.map(({ undersize }) => undersize),
  };
}

/** All measured curves of a log on one scale, with the spec as gates. */
export interface RunCurves {
  readonly product: SizeLine;
  readonly runs: readonly SizeLine[];
  readonly behind: readonly [];
  readonly gates: readonly Gate[];
  readonly measured: readonly [];
}

/** The measured curves of the runs; undefined where no run has one. */
export function runCurves({ spec }: Scenario, trials: readonly LoggedTrial[]): RunCurves | undefined {
  const [first, ...others] = drawnRuns(trials).map(measuredCurve);
  if (!first) return undefined;
  const gates = gatesOf(
    spec,
    spec.map(() => ({ met: true })),
  );
  return { product: first, runs: others, behind: [], gates, measured: [] };
}
