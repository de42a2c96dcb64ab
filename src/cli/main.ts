#!/usr/bin/env node
import { hideBin } from 'yargs/helpers';
import yargs from 'yargs/yargs';
import { InputError } from '../scenario/errors.ts';
import { EXIT } from './command.ts';
import { COMMANDS } from './commands.ts';
import { misstatedOptions, unknownOptions } from './stated-options.ts';

/** Runs the command line and returns the exit code; nothing but `main` ends the process. */
export async function runCommandLine(words: readonly string[]): Promise<number> {
  let code: number = EXIT.done;
  const parser = yargs([...words])
    .scriptName('grindloop')
    .option('debug', { type: 'boolean', describe: 'show the stack trace of a fault', default: false })
    // else --no-load-current would be a load-current that is off
    .parserConfiguration({ 'boolean-negation': false })
    .strict()
    .recommendCommands()
    .demandCommand(1, 'name a command; --help lists them')
    .version(false)
    .wrap(Math.min(110, process.stdout.columns ?? 110))
    .exitProcess(false)
    .fail((message, error) => {
      throw error ?? new InputError([{ place: 'command line', message }]);
    });
  for (const command of COMMANDS) {
    parser.command(command.usage, command.summary, command.options, async (options) => {
      const faults = misstatedOptions(command, options);
      if (faults.length > 0) throw new InputError(faults);
      code = await command.run(options as Parameters<Command['run']>[0]);
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

/** Before the parser, which would read some of them as something else. */
function refuseUnknown(words: readonly string[]): void {
  const command = COMMANDS.find(({ usage }) => usage.split(' ')[0] === words[0]);
  const faults = command ? unknownOptions(command, words.slice(1)) : [];
  if (faults.length > 0) throw new InputError(faults);
}

type Command = (typeof COMMANDS)[number];

function report(error: unknown, debug: boolean): number {
  const fault = error instanceof Error ? error : new Error(String(error));
  if (fault instanceof InputError) {
    process.stderr.write(`${fault.message}\n`);
    return EXIT.badInput;
  }
  process.stderr.write(`this is a bug in grindloop: ${debug ? fault.stack : fault.message}\n`);
  return EXIT.bug;
}

// a reader that closes early, such as head, is no fault
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(EXIT.done);
  throw error;
});
process.exitCode = await runCommandLine(hideBin(process.argv));
