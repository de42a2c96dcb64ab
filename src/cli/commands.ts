import type { Command } from './command.ts';
import { run } from './run.ts';

/** Every command of the program, in the order help shows them. */
export const COMMANDS: readonly Command[] = [run];
