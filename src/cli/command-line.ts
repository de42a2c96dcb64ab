import type { Argv } from 'yargs';
import yargs from 'yargs/yargs';
import { type Fault, InputError } from '../scenario/errors.ts';
import { EXIT } from './command.ts';
import { COMMANDS } from './commands.ts';

type Command = (typeof COMMANDS)[number];
type Values = Readonly<Record<string, unknown>>;

const WIDEST = 110;

/** Runs a command line and returns the exit code; it never ends the process. */
export async function runCommandLine(words: readonly string[]): Promise<number> {
  let code: number = EXIT.done;
  const parser = yargs([...words])
    .scriptName('grindloop')
    .parserConfiguration({ 'dot-notation': false })
    .option('debug', { type: 'boolean', describe: 'show the stack trace of a fault', default: false })
    .strict()
    .recommendCommands()
    .demandCommand(1, 'name a command; --help lists them')
    .version(false)
    .wrap(Math.min(WIDEST, process.stdout.columns ?? WIDEST))
    .exitProcess(false)
    .fail((message, error) => {
      throw message ? usageFault(message, words) : error;
    });
  for (const command of COMMANDS) {
    let repeatable: readonly string[] = [];
    const options = (argv: Argv): Argv => {
      const built = command.options(argv);
      repeatable = arraysOf(built);
      return built;
    };
    parser.command(command.usage, command.summary, options, async (values) => {
      refuseOddValues(command, values, repeatable, words);
      code = await command.run(values as Parameters<Command['run']>[0]);
    });
  }
  try {
    await parser.parseAsync();
  } catch (error) {
    return report(error, words.includes('--debug'));
  }
  return code;
}

function usageFault(message: string, words: readonly string[]): InputError {
  const command = COMMANDS.find(({ usage }) => usage.split(' ')[0] === words[0]);
  const help = command ? `; grindloop ${words[0]} --help shows what it takes` : '';
  const text = message.replace(/\s*\n\s*/g, ' ').trim();
  return new InputError([{ place: 'command line', message: `${text}${help}` }]);
}

/** Options that may be given several times. */
function arraysOf(argv: Argv): readonly string[] {
  return (argv as Argv & { getOptions(): { array: readonly string[] } }).getOptions().array;
}

/** Faults no command has a use for: an option given twice, an empty text, a number that is none. */
function refuseOddValues(
  command: Command,
  values: Values,
  repeatable: readonly string[],
  words: readonly string[],
): void {
  const faults: Fault[] = [];
  for (const [name, value] of Object.entries(values)) {
    if (name === '$0' || name.length === 1) continue; // one letter stands for a longer name
    const place = new RegExp(`[<[]${name}\\b`).test(command.usage) ? name : `--${name}`;
    if (Array.isArray(value)) {
      if (!repeatable.includes(name))
        faults.push({ place, message: `is given ${value.length} times; give it once` });
      else if (value.includes('')) faults.push({ place, message: 'must not be empty' });
    } else if (value === '') faults.push({ place, message: 'must not be empty' });
    else if (typeof value === 'number' && !Number.isFinite(value)) {
      const typed = typedAfter(name, words);
      faults.push({ place, message: `must be a number${typed === undefined ? '' : `, is "${typed}"`}` });
    }
  }
  if (faults.length > 0) throw new InputError(faults);
}

function typedAfter(name: string, words: readonly string[]): string | undefined {
  const at = words.findIndex((word) => word.split('=')[0] === `--${name}`);
  if (at < 0) return undefined;
  const text = words[at]!.includes('=') ? words[at]!.slice(name.length + 3) : words[at + 1];
  return text?.slice(0, 40);
}

function report(error: unknown, debug: boolean): number {
  const fault = error instanceof Error ? error : new Error(String(error));
  if (fault instanceof InputError) {
    process.stderr.write(`${fault.message}\n`);
    return EXIT.badInput;
  }
  process.stderr.write(`this is a bug in grindloop: ${debug ? fault.stack : fault.message}\n`);
  return EXIT.bug;
}
