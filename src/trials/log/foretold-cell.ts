import { formatNumber, toShown } from '../../scenario/units/display.ts';
import { parseValue } from '../../scenario/units/parse-quantity.ts';
import { isProblem } from '../../scenario/units/unit-problem.ts';
import type { Band } from '../fit/quantile.ts';

const CELL = /^\s*([-\d.,]+)\s*\(\s*([-\d.,]+)\s*\.\.\s*([-\d.,]+)\s*\)\s*$/;

/** A reading foretold as the cell of a log: median and 95 % band, in the unit of the column. */
export function foretoldCell({ low, median, high }: Band, unit: string): string {
  const [a, b, c] = [median, low, high].map((value) => formatNumber(toShown(value, unit), 4));
  return `${a} (${b}..${c})`;
}

/**
 * The cell back as a band in SI, or undefined where it holds none.
 *
 * @example readForetold('18.2 (15.1..21.6)', 'W', 'kW') // { median: 18200, low: 15100, high: 21600 }
 */
export function readForetold(cell: string, unit: string, shownIn: string): Band | undefined {
  const match = CELL.exec(cell);
  if (!match) return undefined;
  const [median, low, high] = match.slice(1).map((text) => {
    const value = parseValue(`${text.replace(',', '.')} ${shownIn}`, { unit, shownIn });
    return isProblem(value) ? Number.NaN : value.value;
  }) as [number, number, number];
  return low <= median && median <= high ? { low, median, high } : undefined;
}
