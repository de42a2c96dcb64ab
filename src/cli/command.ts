import type { ArgumentsCamelCase, Argv } from 'yargs';

/** Exit codes of the program. */
export const EXIT = { done: 0, badInput: 1, noAnswer: 2, bug: 70 } as const;

/** One command, one file, one line in `commands.ts`. `run` returns the exit code. */
export interface Command {
  /** yargs form: `run <file>`. */
  readonly usage: string;
  readonly summary: string;
  readonly options: (argv: Argv) => Argv;
  readonly run: (options: ArgumentsCamelCase<Record<string, unknown>>) => Promise<number>;
}
