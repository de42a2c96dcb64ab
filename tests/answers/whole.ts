import { stringify } from 'yaml';
import type { AnswerDocument } from '../../src/answers/document.ts';

/** What rounding leaves over, on one machine more than on another. */
const ROUNDING = 1e-9;
/** Numbers of a list beyond which it is shown by its ends and its mean. */
const LONG = 12;

/** A value with numbers to four digits, long lists of numbers by first, middle, last and mean, without what a solver leaves over. */
export function shortened(value: unknown): unknown {
  if (typeof value === 'number' && Math.abs(value) < ROUNDING) return 0;
  if (typeof value === 'number') return Number.isFinite(value) ? Number(value.toPrecision(4)) : String(value);
  if (ArrayBuffer.isView(value)) return shortened(Array.from(value as Float64Array));
  if (Array.isArray(value)) {
    if (value.length <= LONG || !value.every((each) => typeof each === 'number')) return value.map(shortened);
    const mean = value.filter(Number.isFinite).reduce((sum, each) => sum + each, 0) / value.length;
    const shown = [value[0], value[value.length >> 1], value.at(-1), mean].map((each) =>
      String(shortened(each)),
    );
    return `${value.length} numbers: ${shown.join(', ')}`;
  }
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, each]) =>
      each === undefined || key === 'difference' ? [] : [[key, shortened(each)]],
    ),
  );
}

/**
 * Text without what samples of the coefficients give: it moves with every prior, and has tests of its own
 * (`verdict`, `evidence`, `best-point`).
 */
export function withoutSamples(text: string): string {
  return text
    .replace(/relies on \d+/g, 'relies on …')
    .replace(/plausibly [\d.]+ to [\d.]+/g, 'plausibly … to …')
    .replace(/\d+ % meet the whole spec and \d+ % choke/g, '… % meet the whole spec and … % choke')
    .replace(/^(\s*(?:- )?(?:probability|chokes|range): ).*$/gm, '$1…')
    .replace(/(yes|NO ) {2}.*$/gm, '$1  …');
}

/** Anything as text that is read in a review and compared word by word; `npx vitest run … -u` writes it anew. */
export function asText(value: unknown): string {
  const text = stringify(shortened(value), { lineWidth: 0, aliasDuplicateObjects: false });
  return text.replace(/\d(?:\.\d+)?e-1\d/g, '0');
}

/** All that a document says: sentences, tables, data of figures, keys of its JSON. */
export function wholeText({ keys, ...said }: AnswerDocument): string {
  const sections = said.sections.map(({ tables, ...section }) => ({
    ...section,
    ...(tables
      ? {
          tables: tables.map(({ columns, rows, ...more }) => ({
            heads: columns.map(({ name, unit }) => (unit ? `${name}, ${unit}` : name)).join(' | '),
            rows: rows.map((row) =>
              row
                .map((cell) =>
                  typeof cell === 'string' ? cell : `${cell.text}${cell.fails ? ' FAILS' : ''}`,
                )
                .join(' | '),
            ),
            ...more,
          })),
        }
      : {}),
  }));
  return asText({ ...said, sections, keys });
}
