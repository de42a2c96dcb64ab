import { InputError } from '../scenario/errors.ts';
import { missingPackage } from '../scenario/missing-package.ts';
import { storeFault } from '../sweep/store/fault.ts';
import { programVersion } from '../sweep/store/version.ts';
import { EXIT, loaded, nameOf } from './command.ts';
import { COMMANDS } from './commands.ts';
import { helpText, WIDEST } from './help-text.ts';
import { unknownCommand } from './usage-faults.ts';

/** Runs a command line and returns the exit code; it never ends the process. */
export async function runCommandLine(words: readonly string[]): Promise<number> {
  try {
    // --debug and --help may stand before the command
    const at = words.findIndex((word) => !word.startsWith('-'));
    const named = COMMANDS.find((listed) => nameOf(listed) === words[at]);
    if (named === undefined) return withoutCommand(words, words[at]);
    const command = await loaded(named);
    // the parser of options is loaded only where there are some
    const { runWords } = await import('./run-words.ts');
    return await runWords(command, words.toSpliced(at, 1));
  } catch (error) {
    return report(error, words.includes('--debug'));
  }
}

/** What the program says where it knows no command of the words. */
function withoutCommand(words: readonly string[], word: string | undefined): number {
  const asks = (...names: string[]): boolean => names.some((name) => words.includes(name));
  if (word === undefined && asks('--help', '-h')) {
    process.stdout.write(helpText(process.stdout.columns ?? WIDEST));
  } else if (word === undefined && asks('--version', '-V')) {
    process.stdout.write(`grindloop ${programVersion()}\n`);
  } else throw new InputError(unknownCommand(word, COMMANDS));
  return EXIT.done;
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
  const known = missingPackage(error);
  const fault = known instanceof Error ? known : new Error(String(known));
  const { syscall, path, code } = fault as NodeJS.ErrnoException;
  return syscall === undefined || path === undefined || code === 'ENOENT' ? fault : storeFault(path, fault);
}
