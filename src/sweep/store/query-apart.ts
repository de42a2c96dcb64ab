import { fork } from 'node:child_process';
import { existsSync } from 'node:fs';
import { type Fault, InputError } from '../../scenario/errors.ts';
import { registeredModules } from '../../scenario/outside/registered.ts';
import { packagePath } from '../../scenario/package-folder.ts';
import type { Answer } from './query.ts';

/** What is asked in the other process. */
export interface Question {
  readonly out: string;
  readonly question: string;
  readonly most: number;
  /** Files of the modules loaded here. */
  readonly laws: readonly string[];
}

/** What comes back from it. */
export interface Reply {
  readonly answer?: Answer;
  readonly faults?: readonly Fault[];
  readonly bug?: string;
}

/**
 * `ask` in a process of its own: there are statements that the database answers by ending the process it runs in.
 *
 * @param script the built program of that process
 * @throws InputError as `ask` does, and where the other process ended without an answer
 */
export async function askApart(
  out: string,
  question: string,
  most: number,
  script = packagePath('dist/src/cli/question.js'),
): Promise<Answer> {
  if (!existsSync(script)) throw new Error(`the built ${script} is missing; run npm run build`);
  const child = fork(script, [], { serialization: 'advanced', stdio: ['ignore', 'ignore', 'pipe', 'ipc'] });
  let said = '';
  child.stderr!.on('data', (text) => {
    said += text;
  });
  const reply = await new Promise<Reply | undefined>((done) => {
    child.once('message', (message) => done(message as Reply));
    child.once('exit', () => done(undefined));
    const laws = registeredModules().flatMap(({ path }) => path ?? []);
    child.send({ out, question, most, laws } satisfies Question);
  });
  if (reply?.answer) return reply.answer;
  if (reply?.faults) throw new InputError(reply.faults);
  if (reply?.bug) throw new Error(reply.bug);
  const why = /what\(\):\s*(.*)/.exec(said)?.[1] ?? '';
  const text = /"exception_message":("(?:[^"\\]|\\.)*")/.exec(why)?.[1];
  const words = text === undefined ? why : (JSON.parse(text) as string);
  const message = `the database ended at this statement${words === '' ? '' : `: ${words}`}; the store is as it was`;
  throw new InputError([{ place: 'sql', message }]);
}
