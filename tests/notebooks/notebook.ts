import { cellsOf, type Given } from '../../src/cli/notebook-cells.ts';

const NUMBER = /-?\d+(?:\.\d+)?(?:e[+-]?\d+)?/gi;

/** Leaves numbers that differ by less than this part of themselves, or by less than `least` in their own unit. */
export interface Tolerance {
  readonly part: number;
  readonly least?: number;
}

/** Numbers are printed with four digits at most, so this is one unit in the last. */
export const PRINTED: Tolerance = { part: 1e-3 };
/** Places in a drawing are written to a tenth of a px; colours and widths are words of few digits. */
export const DRAWN: Tolerance = { part: 0, least: 0.25 };

/** First place where two outputs differ in words, or in a number by more than a tolerance; undefined where they agree. */
export function difference(
  found: string,
  wanted: string,
  { part, least = 0 }: Tolerance,
): string | undefined {
  const words = (text: string) => text.replace(NUMBER, '#').replace(/[ ]+/g, ' ');
  if (words(found) !== words(wanted)) return `words differ:\n${found}\nagainst\n${wanted}`;
  const [a, b] = [found.match(NUMBER) ?? [], wanted.match(NUMBER) ?? []];
  for (let i = 0; i < a.length; i++) {
    const [x, y] = [Number(a[i]), Number(b[i])];
    const allowed = Math.max(least, part * Math.max(Math.abs(x), Math.abs(y)));
    if (Math.abs(x - y) > allowed) return `${a[i]} against ${b[i]}`;
  }
  return undefined;
}

/**
 * Where a story as it stands departs from what its cells give.
 *
 * @param drawing text of a drawing as it stands; undefined where there is no such file
 */
export function departures(
  text: string,
  { outputs, drawings }: Given,
  drawing: (file: string) => string | undefined,
): string[] {
  const printed = cellsOf(text).flatMap(({ output = '' }, i) => {
    const found = difference(outputs[i]!, output, PRINTED);
    return found === undefined ? [] : [`cell ${i + 1}: ${found}`];
  });
  const drawn = [...drawings].flatMap(([file, svg]) => {
    if (!text.includes(`](images/${file})`)) return [`${file} is drawn but not shown`];
    const stands = drawing(file);
    if (stands === undefined) return [`${file} is missing`];
    const found = difference(svg, stands, DRAWN);
    return found === undefined ? [] : [`${file}: ${found.slice(0, 200)}`];
  });
  return [...printed, ...drawn];
}

/** A text with one of its numbers made larger by one per cent; one variant a number, zeros left out. */
export function spoiled(text: string): string[] {
  return [...text.matchAll(NUMBER)].flatMap((match) => {
    const value = Number(match[0]);
    if (value === 0) return [];
    return [text.slice(0, match.index) + value * 1.01 + text.slice(match.index + match[0].length)];
  });
}
