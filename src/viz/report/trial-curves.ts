import type { SizeLine } from '../../answers/point-view.ts';
import { pointView } from '../../answers/point-view.ts';
import { gatesOf } from '../../answers/spec-gates.ts';
import { label } from '../../answers/text.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import type { InputOf } from '../figures/index.ts';
import { type Still, stillOf } from './point-figures.ts';

/** Most runs whose curves are drawn, and points a curve needs to be one. */
export const MOST_CURVES = 12;
const FEWEST_POINTS = 2;
/** Width of a figure that takes the whole page [px]. */
const WHOLE_WIDTH = 1060;

/** Runs with a size curve to draw, as many as are drawn. */
function drawnRuns(trials: readonly LoggedTrial[]): LoggedTrial[] {
  return trials.filter(({ sizes }) => (sizes?.points.length ?? 0) >= FEWEST_POINTS).slice(0, MOST_CURVES);
}

/** All measured curves on one scale with the spec as gates; nothing where no run has a curve. */
export function runCurves(
  { spec }: Scenario,
  trials: readonly LoggedTrial[],
): InputOf<'size-curve'> | undefined {
  const [first, ...others] = drawnRuns(trials).map(measuredCurve);
  if (!first) return undefined;
  const gates = gatesOf(
    spec,
    spec.map(() => ({ met: true })),
  );
  return { product: first, runs: others, behind: [], gates, measured: [] };
}

/**
 * The runs on one scale against the target, and each beside the model at its settings.
 *
 * @param whole whether the model may be shown
 */
export function trialCurves(scenario: Scenario, trials: readonly LoggedTrial[], whole: boolean): Still[] {
  const input = runCurves(scenario, trials);
  if (!input) return [];
  const together = stillOf('size-curve', input, { id: 'trial-curves', title: 'The runs against the target' });
  if (!whole) return [together];
  const runs = drawnRuns(trials).map((trial) => {
    const model = pointView(trial.scenario).curves?.product;
    return { name: label(trial.name, 24), measured: measuredCurve(trial), ...(model ? { model } : {}) };
  });
  return [
    together,
    stillOf(
      'runs',
      { runs },
      { id: 'trial-runs', title: 'Each run, measured and computed', width: WHOLE_WIDTH },
    ),
  ];
}

function measuredCurve({ name, sizes }: LoggedTrial): SizeLine {
  const points = sizes!.points;
  return {
    name: label(name, 24),
    sizes: points.map(({ size }) => size * 1e6),
    undersize: points.map(({ undersize }) => undersize),
  };
}
