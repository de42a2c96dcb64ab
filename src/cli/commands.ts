import { check } from './check.ts';
import type { Command } from './command.ts';
import { compare } from './compare.ts';
import { find } from './find.ts';
import { fit } from './fit.ts';
import { grade } from './grade.ts';
import { lesson } from './lesson.ts';
import { merge } from './merge.ts';
import { newScenario } from './new.ts';
import { next } from './next.ts';
import { plant } from './plant.ts';
import { quantities } from './quantities.ts';
import { read } from './read.ts';
import { report } from './report.ts';
import { run } from './run.ts';
import { scale } from './scale.ts';
import { sql } from './sql.ts';
import { sweep } from './sweep.ts';
import { time } from './time.ts';

/** Every command of the program, in the order help shows them. */
export const COMMANDS: readonly Command[] = [
  newScenario,
  check,
  quantities,
  read,
  grade,
  run,
  sweep,
  merge,
  sql,
  report,
  compare,
  lesson,
  find,
  fit,
  next,
  time,
  plant,
  scale,
];
