import type { Scenario } from '../../scenario/scenario.ts';
import { nameInWords } from '../words.ts';

type Job = Scenario['job'];

/** Fields of `job` that head a document, in this order. */
const HEADED = ['number', 'customer', 'author', 'centre'] as const;
/** Fields that have a place of their own in a customer's document. */
const PLACED: ReadonlySet<string> = new Set([...HEADED, 'logo', 'objective', 'conclusion', 'nextStep']);
/** Fields a customer's document is expected to have. */
const EXPECTED = [...HEADED, 'objective', 'conclusion', 'nextStep'] as const;

const NAMES: Readonly<Record<string, string>> = { number: 'report number', centre: 'test centre' };

/** Whether a heading names who ran the mill: printed for a customer only where that was chosen. */
export function namesOperator(heading: string): boolean {
  return /^operators?$/i.test(heading.trim());
}

/**
 * The job's fields as they head a customer's document: number, customer, author and centre first, then the other words of
 * the file.
 *
 * @param operator whether who ran the mill is named
 */
export function headFacts(job: Job, operator: boolean): [name: string, value: string][] {
  const first = HEADED.flatMap((key): [string, string][] =>
    job[key] === undefined ? [] : [[NAMES[key] ?? key, job[key]]],
  );
  const others = Object.entries(job).flatMap(([key, value]): [string, string][] =>
    PLACED.has(key) || (namesOperator(key) && !operator) ? [] : [[nameInWords(key), value]],
  );
  return [...first, ...others];
}

/** What a document's foot says besides the page: report number and author, where `job` has them. */
export function footWords({ number, author }: Job): string {
  return [number, author].filter(Boolean).join(' · ');
}

/** Fields a customer's document leaves out because `job` does not have them: `job.number, job.author`. */
export function missingFields(job: Job): string[] {
  return EXPECTED.filter((key) => job[key] === undefined).map((key) => `job.${key}`);
}
