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

/** Longest line of a table; a wider one is written row by row. */
const WIDEST = 150;

function tableLines(table: AnswerTable): string[] {
  const { caption, columns, rows, notes = [] } = table;
  const heads = columns.map(columnHead);
  const cells = [heads, ...rows.map((row) => row.map(marked))];
  const text = columnsOf(cells.map((row) => row.map((cell, i) => (i === 0 ? `  ${cell}` : cell))));
  const wide = text.split('\n').some((line) => line.length > WIDEST);
  return [
    ...(caption ? [caption] : []),
    ...(wide ? rows.flatMap((row) => rowLines(heads, row.map(marked))) : [text]),
    ...notes.map((note) => `  ${note}`),
  ];
}

/** A row as a block: what it is about, then each cell under its head. */
function rowLines(heads: readonly string[], [first = '', ...cells]: readonly string[]): string[] {
  return [
    `  ${first}`,
    ...cells.flatMap((cell, i) => (cell === '' ? [] : [`      ${heads[i + 1]}: ${cell}`])),
  ];
}

/** A cell that fails is marked by a sign, as a terminal may have no colour. */
function marked(cell: AnswerTable['rows'][number][number]): string {
  return typeof cell !== 'string' && cell.fails ? `${cellText(cell)} !` : cellText(cell);
}
