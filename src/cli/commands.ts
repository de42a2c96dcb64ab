import type { Command } from './command.ts';
import { grade } from './grade.ts';
import { read } from './read.ts';

/** Every command of the program, in the order help shows them. */
export const COMMANDS: readonly Command[] = [read, grade];
