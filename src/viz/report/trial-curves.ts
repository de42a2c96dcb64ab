import { pointView } from '../../answers/point-view.ts';
import { drawnRuns, measuredCurve, runCurves } from '../../answers/run-curves.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import { type Still, stillOf } from './point-figures.ts';

/** Width of a figure that takes the whole page [px]. */
const WHOLE_WIDTH = 1060;

/** The runs on one scale against the target, and each with the model at its settings. */
export function trialCurves(scenario: Scenario, trials: readonly LoggedTrial[]): Still[] {
  const input = runCurves(scenario, trials);
  if (!input) return [];
  const runs = drawnRuns(trials).map((trial) => {
    const model = pointView(trial.scenario).curves?.product;
    const measured = measuredCurve(trial);
    return { name: measured.name, measured, ...(model ? { model } : {}) };
  });
  const title = 'Each run, measured and computed';
  return [
    stillOf('size-curve', input, { id: 'trial-curves', title: 'The runs against the target' }),
    stillOf('runs', { runs }, { id: 'trial-runs', title, width: WHOLE_WIDTH }),
  ];
}
