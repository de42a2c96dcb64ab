import { type AnswerDocument, type AnswerTable, cellText, columnHead, type Section } from './document.ts';

/** What a reader of the terminal or the page reads, under the key `document`. */
export interface WrittenDocument {
  readonly title: string;
  readonly answer: string;
  readonly more: readonly string[];
  readonly sections: readonly WrittenSection[];
  readonly notes: readonly string[];
  readonly cautions: readonly string[];
}

interface WrittenSection {
  readonly heading: string;
  readonly sentences: readonly string[];
  readonly tables: readonly {
    readonly heads: readonly string[];
    readonly rows: readonly (readonly string[])[];
  }[];
}

/**
 * An answer as JSON: the command's own keys, then what is said of them under `document`. Numbers that are not there are null.
 *
 * @param document computed by a command
 * @returns text of one JSON object, ending in a line break
 */
export function documentJson(document: AnswerDocument): string {
  const { keys, title, opening, answer, sections, notes, cautions } = document;
  const [first = '', ...more] = answer;
  const written: WrittenDocument = {
    title,
    answer: opening ? `${opening} ${first}` : first,
    more,
    sections: sections.map(writtenSection),
    notes,
    cautions,
  };
  return `${JSON.stringify({ ...keys, document: written }, finite, 2)}\n`;
}

function writtenSection({ heading, sentences = [], tables = [] }: Section): WrittenSection {
  return { heading, sentences, tables: tables.map(writtenTable) };
}

function writtenTable({ columns, rows }: AnswerTable) {
  return { heads: columns.map(columnHead), rows: rows.map((row) => row.map(cellText)) };
}

/** JSON has no infinite numbers and none that are not there. */
function finite(_: string, value: unknown): unknown {
  return typeof value === 'number' && !Number.isFinite(value) ? null : value;
}
