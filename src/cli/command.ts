import type { ArgumentsCamelCase, Argv } from 'yargs';
import { withLawOption } from './law-option.ts';

/** Exit codes of the program. */
export const EXIT = { done: 0, badInput: 1, noAnswer: 2, bug: 70 } as const;

/** A command as help lists it; one entry in `commands.ts`. */
export interface Listed {
  /** yargs form: `run <file>`. */
  readonly usage: string;
  readonly summary: string;
  readonly load: () => Promise<Command>;
}

/** What a command takes and does, one file each. `run` returns the exit code. */
export interface Command {
  readonly options: (argv: Argv) => Argv;
  readonly run: (options: ArgumentsCamelCase<Record<string, unknown>>) => Promise<number>;
}

/** A command with all that is known of it. */
export type Loaded = Command & Pick<Listed, 'usage' | 'summary'>;

/** Name of a command, the first word of its usage. */
export function nameOf({ usage }: Pick<Listed, 'usage'>): string {
  return usage.split(' ')[0]!;
}

/** A command with its file loaded. */
export async function loaded(listed: Listed): Promise<Loaded> {
  const { usage, summary, load } = listed;
  const { options, run } = await load();
  return { usage, summary, run, options: withLawOption(nameOf(listed), options) };
}
