import { measuredSpec } from '../../answers/measured-spec.ts';
import type { SizeLine } from '../../answers/point-view.ts';
import { pointView } from '../../answers/point-view.ts';
import { gatesOf } from '../../answers/spec-gates.ts';
import { label } from '../../answers/text.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import { type Still, stillOf } from './point-figures.ts';

/** Most runs whose curves are drawn, and points a curve needs to be one. */
const MOST = 12;
const FEWEST_POINTS = 2;

/**
 * Each run's measured curve against the target, the model at the same settings dashed behind it.
 *
 * @param whole whether the model may be shown
 */
export function trialCurves({ spec }: Scenario, trials: readonly LoggedTrial[], whole: boolean): Still[] {
  const drawn = trials.filter(({ sizes }) => (sizes?.points.length ?? 0) >= FEWEST_POINTS).slice(0, MOST);
  return drawn.map((trial, i) => {
    const name = label(trial.name, 24);
    const gates = gatesOf(
      spec,
      spec.map((line) => ({ met: measuredSpec(line, trial).met ?? false })),
    );
    const open = spec.map((line) => measuredSpec(line, trial).met !== undefined);
    const known = gatesOf(
      spec.filter((_, k) => open[k]),
      spec.flatMap((line, k) => (open[k] ? [{ met: measuredSpec(line, trial).met! }] : [])),
    );
    const input = {
      product: measuredCurve(trial, name),
      behind: whole ? modelCurve(trial) : [],
      gates: known,
      measured: [],
    };
    const missing = gates.length > known.length ? ' (not all of the target was measured)' : '';
    return stillOf('size-curve', input, {
      id: `trial-${i + 1}`,
      title: `${name} against the target${missing}`,
    });
  });
}

function measuredCurve({ sizes }: LoggedTrial, name: string): SizeLine {
  const points = sizes!.points;
  return {
    name: `${name}, measured`,
    sizes: points.map(({ size }) => size * 1e6),
    undersize: points.map(({ undersize }) => undersize),
  };
}

function modelCurve({ scenario }: LoggedTrial): SizeLine[] {
  const product = pointView(scenario).curves?.product;
  return product ? [{ ...product, name: 'model' }] : [];
}
