import { runAnswer, runJson, runText } from '../answers/run-text.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { programVersion } from '../sweep/store/version.ts';
import type { FigureOffer } from '../viz/figures/figure-offer.ts';
import { checkedTogether } from './collect-faults.ts';
import { type Command, EXIT } from './command.ts';
import { type FigureWish, figureOptions, figureWish, writeFigure } from './figure-options.ts';
import { GRADED, loadGraded } from './grade-option.ts';
import { settable } from './set-option.ts';

/** `run FILE`: one operating point. */
export const run: Command = {
  options: (argv) =>
    figureOptions(argv)
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('json', { type: 'boolean', default: false, describe: 'print the result as JSON' })
      .option('grade', GRADED)
      .option('set', settable('change a value, e.g. --set settings.wheelSpeed="2400 rpm" (repeatable)'))
      .example('grindloop run my-case.yaml', 'the operating point of the file')
      .example(
        'grindloop run my-case.yaml --set settings.wheelSpeed="2400 rpm" --json',
        'another point, as JSON',
      ),
  run: async (options) => {
    const [wish, scenario] = await checkedTogether<[FigureWish | undefined, Scenario]>([
      () => figureWish(options),
      () => loadGraded(String(options.file), options),
    ]);
    const answer = runAnswer(scenario);
    const written = wish ? await writeFigure(await figuresOf(scenario), wish) : [];
    process.stdout.write(options.json ? runJson(answer) : runText(answer));
    if (written.length > 0 && !options.json) process.stdout.write(`\n${written.join('\n')}\n`);
    return answer.outcome.status === 'choked' ? EXIT.noAnswer : EXIT.done;
  },
};

/** The figures of a run's report. */
async function figuresOf(scenario: Scenario): Promise<FigureOffer> {
  const { runReport } = await import('../viz/report/run-report.ts');
  const date = new Date().toISOString().slice(0, 10);
  return runReport(scenario, { version: programVersion(), date, audience: 'engineer' }).offer;
}
