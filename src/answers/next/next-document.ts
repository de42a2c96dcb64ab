import type { AnswerDocument, Section } from '../document.ts';
import { columns } from '../document.ts';
import type { Table } from '../table.ts';
import type { RunPlan, RunSheet } from './run-sheet-content.ts';

/**
 * A run sheet as an answer, for `--json`; on paper it has boxes for a pen, which a document has not.
 *
 * @param found whether a trial is planned, or none is needed
 */
export function nextDocument(
  { title, headline, asked, at, plan, cautions }: RunSheet,
  keys: AnswerDocument['keys'],
  found: boolean,
): AnswerDocument {
  return {
    command: 'next',
    found,
    title,
    answer: [...headline, `Required: ${asked}; at ${at}.`],
    sections: plan ? sectionsOf(plan) : [],
    notes: [],
    cautions,
    keys,
  };
}

function sectionsOf({ settings, settles, stopRules }: RunPlan): Section[] {
  return [
    { id: 'runs', heading: 'Runs, in this order', tables: [tableOf(settings)] },
    { id: 'determines', heading: 'What each run is to determine', sentences: settles },
    { id: 'stop', heading: 'When to stop', sentences: stopRules },
  ];
}

function tableOf({ heads, rows }: Table) {
  return { columns: columns(...heads), rows };
}
