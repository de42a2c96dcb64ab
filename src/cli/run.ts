import { loadScenario } from '../scenario/load.ts';
import { outcomeOf } from '../scenario/outcome/outcome.ts';
import { solvePoint } from '../scenario/outcome/solved.ts';
import { toCase } from '../scenario/point.ts';
import { withSpread } from '../trials/spread.ts';
import { type Command, EXIT } from './command.ts';
import { runSummary } from './run-summary.ts';

/** `run FILE`: one operating point. */
export const run: Command = {
  usage: 'run <file>',
  summary: 'one operating point: does it meet the spec, by how much, what limits',
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('json', { type: 'boolean', default: false, describe: 'print the result as JSON' })
      .option('set', {
        type: 'string',
        array: true,
        nargs: 1,
        default: [] as string[],
        describe: 'change a value, e.g. --set settings.wheelSpeed="2400 rpm" (repeatable)',
      }),
  run: async (options) => {
    const scenario = await loadScenario(String(options.file), { set: options.set as string[] });
    const point = solvePoint(toCase(scenario));
    const outcome = withSpread(scenario, outcomeOf(scenario, point));
    process.stdout.write(
      options.json ? `${JSON.stringify(outcome, null, 2)}\n` : runSummary(scenario, outcome),
    );
    return outcome.status === 'choked' ? EXIT.noAnswer : EXIT.done;
  },
};
