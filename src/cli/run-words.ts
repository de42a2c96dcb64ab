import yargs from 'yargs/yargs';
import { InputError } from '../scenario/errors.ts';
import { type Command, EXIT, type Loaded, nameOf } from './command.ts';
import { WIDEST } from './help-text.ts';
import { lawFilesIn, loadNamedLaws } from './law-option.ts';
import { contradictedSwitches, misstatedOptions, unknownOptions } from './option-faults.ts';
import { usageFault } from './usage-faults.ts';

/**
 * Reads the words of one command, its name left out, and runs it. The parser sees that command as its only one: told of
 * several, it lays out the help text at every run.
 *
 * @returns the exit code
 * @throws InputError with every fault of the words
 */
export async function runWords(command: Loaded, words: readonly string[]): Promise<number> {
  const { usage, summary, options } = command;
  // before the parser, which would read some of them as something else
  const faults = [...unknownOptions(command, words), ...contradictedSwitches(command, words)];
  if (faults.length > 0) throw new InputError(faults);
  await loadNamedLaws(nameOf(command), lawFilesIn(words));
  let code: number = EXIT.done;
  await yargs([...words])
    .scriptName(`grindloop ${nameOf(command)}`)
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
    })
    .command(usage.replace(/^\S+/, '$0'), summary, options, async (values) => {
      const misstated = misstatedOptions(command, values);
      if (misstated.length > 0) throw new InputError(misstated);
      code = await command.run(values as Parameters<Command['run']>[0]);
    })
    .parseAsync();
  return code;
}
