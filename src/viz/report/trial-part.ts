import type { Answer } from '../../answers/report-answer.ts';
import { balanceTable, energyTable, flagsOf, runTable, targetTable } from '../../answers/trial-tables.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import type { Html } from '../html/template.ts';
import type { Still } from './point-figures.ts';
import { trialsSection } from './sections/trials.ts';
import { trialCurves } from './trial-curves.ts';

/**
 * The trials of a log as a section of a report; nothing where there are none.
 *
 * @param what whether the answer recommends settings or takes those of the file
 * @param take takes a figure along for the page's script
 */
export function trialPart(
  scenario: Scenario,
  trials: readonly LoggedTrial[],
  answer: Answer,
  what: 'sweep' | 'run',
  whole: boolean,
  take: (still: Still) => Html,
): Html | undefined {
  if (trials.length === 0) return undefined;
  return trialsSection({
    scenario,
    runs: runTable(trials),
    target: targetTable(scenario, trials),
    balance: balanceTable(trials),
    energy: energyTable(trials),
    flags: flagsOf(trials),
    curves: trialCurves(scenario, trials, whole).map(take),
    answer,
    what,
    count: trials.length,
    whole,
  });
}
