import type { Argv } from 'yargs';
import { InputError } from '../scenario/errors.ts';

/** Commands that read neither a scenario nor a store. */
const WITHOUT = ['new', 'read', 'completion'];
/** Commands whose page computes by itself, where a module of the user's own cannot go along. */
const IN_THE_PAGE = ['desk', 'lesson'];

/** A command's options, with `--with FILE` where it reads what may name laws of the user's own. */
export function withLawOption(command: string, options: (argv: Argv) => Argv): (argv: Argv) => Argv {
  if (WITHOUT.includes(command)) return options;
  return (argv) =>
    options(argv).option('with', {
      type: 'string',
      array: true,
      nargs: 1,
      describe:
        'JavaScript module with laws, designs or quantities of your own (repeatable); its code is run',
    });
}

/** The files behind `--with` among the words of a command, before the parser, whose choices may come from them. */
export function lawFilesIn(words: readonly string[]): string[] {
  const end = words.indexOf('--');
  const options = words.slice(0, end < 0 ? words.length : end);
  return options.flatMap((word, at) => {
    if (word.startsWith('--with=')) return [word.slice('--with='.length)];
    const next = options[at + 1];
    return word === '--with' && next !== undefined && !next.startsWith('-') ? [next] : [];
  });
}

/**
 * Loads the modules a command line names.
 *
 * @throws InputError with every fault of every module, and where the command's page could not carry them
 */
export async function loadNamedLaws(command: string, files: readonly string[]): Promise<void> {
  if (files.length === 0) return;
  if (IN_THE_PAGE.includes(command)) {
    const message = `is not available for ${command}: its page computes by itself and cannot carry laws of your own; write the page of a run with grindloop report FILE --with ${files[0]}`;
    throw new InputError([{ place: '--with', message }]);
  }
  const { loadLaws } = await import('../scenario/load-laws.ts');
  await loadLaws(...files);
}
