import yargs from 'yargs/yargs';
import { InputError } from '../scenario/errors.ts';
import { storeFault } from '../sweep/store/fault.ts';
import { EXIT } from './command.ts';
import { COMMANDS } from './commands.ts';
import { contradictedSwitches, misstatedOptions, unknownOptions } from './option-faults.ts';
import { nameOfCommand, unknownCommand, usageFault } from './usage-faults.ts';

type Command = (typeof COMMANDS)[number];

const WIDEST = 110;

/** Runs a command line and returns the exit code; it never ends the process. */
export async function runCommandLine(words: readonly string[]): Promise<number> {
  let code: number = EXIT.done;
  const parser = yargs([...words])
    .scriptName('grindloop')
    // else --no-load-current would be a load-current that is off, and --set.x=1 an object
    .parserConfiguration({ 'boolean-negation': false, 'dot-notation': false })
    .option('debug', { type: 'boolean', describe: 'show the stack trace of a fault', default: false })
    .strict()
    .version(false)
    .wrap(Math.min(WIDEST, process.stdout.columns ?? WIDEST))
    .exitProcess(false)
    .fail((message, error) => {
      throw message ? new InputError([usageFault(message, commandOf(words))]) : error;
    });
  for (const command of COMMANDS) {
    parser.command(command.usage, command.summary, command.options, async (values) => {
      const faults = misstatedOptions(command, values);
      if (faults.length > 0) throw new InputError(faults);
      code = await command.run(values as Parameters<Command['run']>[0]);
    });
  }
  try {
    refuseUnknown(words);
    await parser.parseAsync();
  } catch (error) {
    return report(error, words.includes('--debug'));
  }
  return code;
}

function commandOf(words: readonly string[]): Command | undefined {
  return COMMANDS.find((command) => nameOfCommand(command) === words[0]);
}

/** Before the parser, which would read some of them as something else. */
function refuseUnknown(words: readonly string[]): void {
  const command = commandOf(words);
  const rest = words.slice(1);
  const faults = command
    ? [...unknownOptions(command, rest), ...contradictedSwitches(command, rest)]
    : unknownCommand(words[0], COMMANDS);
  if (faults.length > 0) throw new InputError(faults);
}

function report(error: unknown, debug: boolean): number {
  const fault = inWords(error);
  if (fault instanceof InputError) {
    process.stderr.write(`${fault.message}\n`);
    return EXIT.badInput;
  }
  process.stderr.write(`this is a bug in grindloop: ${debug ? fault.stack : fault.message}\n`);
  return EXIT.bug;
}

/** What the file system refuses is no bug, and said in words; but for a file of the program's own that is missing. */
function inWords(error: unknown): Error {
  const fault = error instanceof Error ? error : new Error(String(error));
  const { syscall, path, code } = fault as NodeJS.ErrnoException;
  return syscall === undefined || path === undefined || code === 'ENOENT' ? fault : storeFault(path, fault);
}
