import yargs from 'yargs/yargs';
import { InputError } from '../scenario/errors.ts';
import { type Command, EXIT, type Loaded, nameOf } from './command.ts';
import { COMMANDS } from './commands.ts';
import { WIDEST } from './help-text.ts';
import { contradictedSwitches, misstatedOptions, unknownOptions } from './option-faults.ts';

/** Reads the words and runs the command; of the others only what help lists is known. */
export async function runWords(words: readonly string[], command: Loaded | undefined): Promise<number> {
  let code: number = EXIT.done;
  const parser = yargs([...words])
    .scriptName('grindloop')
    // else --no-load-current would be a load-current that is off, and --set.x=1 an object
    .parserConfiguration({ 'boolean-negation': false, 'dot-notation': false })
    .option('debug', { type: 'boolean', describe: 'show the stack trace of a fault', default: false })
    .strict()
    .recommendCommands()
    .demandCommand(1, 'name a command; --help lists them')
    .help('help', 'show help')
    .alias('help', 'h')
    .version(false)
    .wrap(Math.min(WIDEST, process.stdout.columns ?? WIDEST))
    .exitProcess(false)
    .fail((message, error) => {
      throw message ? usageFault(message, command) : error;
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
  if (command) refuseUnknown(command, words.slice(1));
  await parser.parseAsync();
  return code;
}

function usageFault(message: string, command: Loaded | undefined): InputError {
  const help = command ? `; grindloop ${nameOf(command)} --help shows what it takes` : '';
  const text = message.replace(/\s*\n\s*/g, ' ').trim();
  return new InputError([{ place: 'command line', message: `${text}${help}` }]);
}

/** Before the parser, which would read some of them as something else. */
function refuseUnknown(command: Loaded, words: readonly string[]): void {
  const faults = [...unknownOptions(command, words), ...contradictedSwitches(command, words)];
  if (faults.length > 0) throw new InputError(faults);
}
