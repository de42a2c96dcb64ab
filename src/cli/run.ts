import { runAnswer, runJson, runText } from '../answers/run-text.ts';
import { loadScenario } from '../scenario/load.ts';
import { toCase } from '../scenario/operating-point.ts';
import { outcomeOf } from '../scenario/outcome/outcome.ts';
import { solvePoint } from '../scenario/outcome/solved.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { programVersion } from '../sweep/store/version.ts';
import { withSpread } from '../trials/spread.ts';
import type { FigureOffer } from '../viz/figures/figure-offer.ts';
import { runReport } from '../viz/report/run-report.ts';
import { checkedTogether } from './collect-faults.ts';
import { type Command, EXIT } from './command.ts';
import { type FigureWish, figureOptions, figureWish, writeFigure } from './figure-options.ts';
import { settable } from './set-option.ts';

/** `run FILE`: one operating point. */
export const run: Command = {
  usage: 'run <file>',
  summary: 'one operating point: does it meet the spec, by how much, what limits',
  options: (argv) =>
    figureOptions(argv)
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('json', { type: 'boolean', default: false, describe: 'print the result as JSON' })
      .option('set', settable('change a value, e.g. --set settings.wheelSpeed="2400 rpm" (repeatable)')),
  run: async (options) => {
    const [wish, scenario] = await checkedTogether<[FigureWish | undefined, Scenario]>([
      () => figureWish(options),
      () => loadScenario(String(options.file), { set: options.set as string[] }),
    ]);
    const point = solvePoint(toCase(scenario));
    const outcome = withSpread(scenario, outcomeOf(scenario, point));
    const answer = runAnswer(scenario, outcome);
    const written = wish ? await writeFigure(figuresOf(scenario), wish) : [];
    process.stdout.write(options.json ? runJson(answer) : runText(answer));
    if (written.length > 0 && !options.json) process.stdout.write(`\n${written.join('\n')}\n`);
    return outcome.status === 'choked' ? EXIT.noAnswer : EXIT.done;
  },
};

/** The figures of a run's report. */
function figuresOf(scenario: Scenario): FigureOffer {
  const date = new Date().toISOString().slice(0, 10);
  return runReport(scenario, { version: programVersion(), date, audience: 'engineer' }).offer;
}
