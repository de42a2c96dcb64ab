import type { SweepTable } from '../../answers/sweep-table.ts';
import { valueAtPosition } from '../../answers/sweep-window.ts';
import { tableVerdict } from '../../answers/table-verdict.ts';
import { together } from '../../answers/text.ts';
import type { LevelGrid, Position } from '../../search/window/levels.ts';
import { tickText } from '../ticks.ts';
import { element } from './dom.ts';

/** Quantities a reading shows even where there is little room. */
const MAIN = ['x50', 'x95', 'motorLoad', 'outletTemperature', 'feedAtChoke', 'passes', 'specificEnergy'];
/** Quantities that check the solve rather than tell of the mill. */
const ASIDE = ['massClosure'];

/** All quantities of a sweep at one position, interpolated, and whether the spec is met there. */
export function readingOf(table: SweepTable, grid: LevelGrid, at: Position, place: string): Node[] {
  const list = element('dl', {});
  for (const { of, measure, values } of table.quantities) {
    if (ASIDE.includes(of)) continue;
    const value = valueAtPosition(grid, values, at);
    const text = Number.isFinite(value) ? `${readNumber(value)} ${measure.unit}`.trim() : readNumber(value);
    list.append(
      element(
        'div',
        MAIN.includes(of) ? { class: 'main' } : {},
        element('dt', {}, measure.name),
        element('dd', {}, text),
      ),
    );
  }
  return [element('p', {}, together(`${place}: ${tableVerdict(table, grid, at)}`)), list];
}

/** Place, the quantity coloured, and whether the spec is met there: what fits beside a pointer. */
export function shortReading(
  table: SweepTable,
  grid: LevelGrid,
  at: Position,
  place: string,
  quantity: string,
): string {
  const { measure, values } = table.quantities.find(({ of }) => of === quantity)!;
  const value = valueAtPosition(grid, values, at);
  const read = Number.isFinite(value)
    ? `\n${measure.name} ${readNumber(value)} ${measure.unit}`.trimEnd()
    : '';
  return `${place}${read}\n${tableVerdict(table, grid, at)}`;
}

/** A number of a reading, three digits: what lies between points is interpolated. */
export function readNumber(value: number, digits = 3): string {
  return Number.isFinite(value) ? tickText(Number(value.toPrecision(digits))) : '–';
}
