import { loadScenario } from '../scenario/load.ts';
import { type Command, EXIT } from './command.ts';
import { settable } from './set-option.ts';
import { timeOf } from './time-run.ts';
import { timeJson, timeText } from './time-summary.ts';

/** `time FILE`: the same balance against time. */
export const time: Command = {
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('json', { type: 'boolean', default: false, describe: 'print every row as JSON' })
      .option('quiet-feeder', {
        type: 'boolean',
        default: false,
        describe: 'hold the feed exactly: no noise',
      })
      .option('set', settable('change a value, e.g. --set time.duration="30 min" (repeatable)')),
  run: async (options) => {
    const scenario = await loadScenario(String(options.file), { set: options.set as string[] });
    const result = timeOf(scenario, options['quiet-feeder'] === true);
    process.stdout.write(
      options.json ? `${JSON.stringify(timeJson(result), null, 2)}\n` : timeText(scenario, result),
    );
    return result.choked ? EXIT.noAnswer : EXIT.done;
  },
};
