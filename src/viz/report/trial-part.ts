import { type MeasuredRun, targetTable } from '../../answers/measured-runs.ts';
import { balanceTable, energyTable, flagsOf, remarksOf, runTable } from '../../answers/trial-tables.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import type { Html } from '../html/template.ts';
import type { Still } from './point-figures.ts';
import { trialsSection } from './sections/trials.ts';
import { trialCurves } from './trial-curves.ts';

/**
 * The trials of a log as a section of a report; nothing where there are none.
 *
 * @param take takes a figure along for the page's script
 */
export function trialPart(
  scenario: Scenario,
  trials: readonly LoggedTrial[],
  measured: readonly MeasuredRun[],
  take: (still: Still) => Html,
): Html | undefined {
  if (trials.length === 0) return undefined;
  return trialsSection({
    scenario,
    runs: runTable(trials),
    target: targetTable(scenario, measured),
    balance: balanceTable(trials),
    energy: energyTable(trials),
    flags: [...flagsOf(trials), ...remarksOf(trials)],
    curves: trialCurves(scenario, trials).map(take),
    count: trials.length,
  });
}
