import {
  type AnswerDocument,
  type AnswerTable,
  cellText,
  columnHead,
  type Section,
} from '../answers/document.ts';
import { columnsOf } from './columns.ts';

/**
 * An answer as text of a terminal: title, the answer, its sections, notes, cautions.
 *
 * @param written files written besides, named last
 */
export function printedDocument(document: AnswerDocument, written: readonly string[] = []): string {
  const { title, opening, answer, sections, notes, cautions } = document;
  const [first = '', ...more] = answer;
  const blocks = [
    [title],
    [opening ? `${opening} ${first}` : first, ...more],
    ...sections.filter(({ onPageOnly }) => !onPageOnly).flatMap(sectionBlocks),
    notes.map((note) => `note: ${note}`),
    [...cautions],
    [...written],
  ];
  return `${blocks
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join('\n'))
    .join('\n\n')}\n`;
}

function sectionBlocks({ heading, sentences = [], tables = [], listing }: Section): string[][] {
  const blocks = [...tables.map(tableLines), ...(listing === undefined ? [] : [[listing.trimEnd()]])];
  if (sentences.length + blocks.length === 0) return [];
  const head = heading === '' ? [] : [`${heading}:`];
  // words stand right above what they are about
  return [[...head, ...sentences, ...(blocks[0] ?? [])], ...blocks.slice(1)];
}

function tableLines({ caption, columns, rows, notes = [] }: AnswerTable): string[] {
  const cells = rows.map((row) => row.map((cell) => marked(cell)));
  return [
    ...(caption ? [caption] : []),
    columnsOf(
      [columns.map(columnHead), ...cells].map((row) => row.map((cell, i) => (i === 0 ? `  ${cell}` : cell))),
    ),
    ...notes.map((note) => `  ${note}`),
  ];
}

/** A cell that fails is marked by a sign, as a terminal may have no colour. */
function marked(cell: AnswerTable['rows'][number][number]): string {
  return typeof cell !== 'string' && cell.fails ? `${cellText(cell)} !` : cellText(cell);
}
