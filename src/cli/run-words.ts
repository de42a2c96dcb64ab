import yargs from 'yargs/yargs';
import { InputError } from '../scenario/errors.ts';
import { type Command, EXIT, type Loaded } from './command.ts';
import { COMMANDS } from './commands.ts';
import { WIDEST } from './help-text.ts';
import { contradictedSwitches, misstatedOptions, unknownOptions } from './option-faults.ts';
import { unknownCommand, usageFault } from './usage-faults.ts';

/** Reads the words and runs the command; of the others only what help lists is known. */
export async function runWords(words: readonly string[], command: Loaded | undefined): Promise<number> {
  let code: number = EXIT.done;
  const parser = yargs([...words])
    .scriptName('grindloop')
    // else --no-load-current would be a load-current that is off, and --set.x=1 an object
    .parserConfiguration({ 'boolean-negation': false, 'dot-notation': false })
    .option('debug', { type: 'boolean', describe: 'show the stack trace of a fault', default: false })
    .strict()
    .help('help', 'show help')
    .alias('help', 'h')
    .version(false)
    .wrap(Math.min(WIDEST, process.stdout.columns ?? WIDEST))
    .exitProcess(false)
    .fail((message, error) => {
      throw message ? new InputError([usageFault(message, command)]) : error;
    });
  for (const { usage, summary } of COMMANDS) {
    if (usage !== command?.usage) parser.command(usage, summary);
    else
      parser.command(usage, summary, command.options, async (values) => {
        const faults = misstatedOptions(command, values);
        if (faults.length > 0) throw new InputError(faults);
        code = await command.run(values as Parameters<Command['run']>[0]);
      });
  }
  refuseUnknown(words, command);
  await parser.parseAsync();
  return code;
}

/** Before the parser, which would read some of them as something else. */
function refuseUnknown(words: readonly string[], command: Loaded | undefined): void {
  const rest = words.slice(1);
  const faults = command
    ? [...unknownOptions(command, rest), ...contradictedSwitches(command, rest)]
    : unknownCommand(words[0], COMMANDS);
  if (faults.length > 0) throw new InputError(faults);
}
