import { InputError } from '../scenario/errors.ts';
import { storeFault } from '../sweep/store/fault.ts';
import { programVersion } from '../sweep/store/version.ts';
import { EXIT, loaded, nameOf } from './command.ts';
import { COMMANDS } from './commands.ts';
import { helpText, WIDEST } from './help-text.ts';

/** Runs a command line and returns the exit code; it never ends the process. */
export async function runCommandLine(words: readonly string[]): Promise<number> {
  try {
    const known = words.length === 1 ? withoutCommand(words[0]!) : undefined;
    if (known !== undefined) {
      process.stdout.write(known);
      return EXIT.done;
    }
    const named = COMMANDS.find((listed) => nameOf(listed) === words[0]);
    // the parser of options is loaded only where there are some
    const { runWords } = await import('./run-words.ts');
    return await runWords(words, named && (await loaded(named)));
  } catch (error) {
    return report(error, words.includes('--debug'));
  }
}

/** What the program says where no command is named. */
function withoutCommand(word: string): string | undefined {
  if (word === '--help' || word === '-h') return helpText(process.stdout.columns ?? WIDEST);
  return word === '--version' || word === '-V' ? `grindloop ${programVersion()}\n` : undefined;
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
