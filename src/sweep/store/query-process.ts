import { InputError } from '../../scenario/errors.ts';
import { ask } from './query.ts';
import type { Question, Reply } from './query-apart.ts';

// The process in which one question is asked; see `askApart`.
process.once('message', async ({ out, question, most }: Question) => {
  const reply = await ask(out, question, most).then(
    (answer): Reply => ({ answer }),
    (error: unknown): Reply =>
      error instanceof InputError ? { faults: error.faults } : { bug: String((error as Error).stack) },
  );
  process.send!(reply, () => process.disconnect());
});
