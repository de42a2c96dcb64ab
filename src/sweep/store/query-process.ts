import { InputError } from '../../scenario/errors.ts';
import { ask } from './query.ts';
import type { Question, Reply } from './query-apart.ts';

async function answered({ out, question, most, laws }: Question) {
  if (laws.length > 0) await (await import('../../scenario/load-laws.ts')).loadLaws(...laws);
  return ask(out, question, most);
}

// The process in which one question is asked; see `askApart`.
process.once('message', async (asked: Question) => {
  const reply = await answered(asked).then(
    (answer): Reply => ({ answer }),
    (error: unknown): Reply =>
      error instanceof InputError ? { faults: error.faults } : { bug: String((error as Error).stack) },
  );
  process.send!(reply, () => process.disconnect());
});
