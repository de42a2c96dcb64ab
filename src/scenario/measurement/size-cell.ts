import type { Fault } from '../errors.ts';
import { type DecimalSign, isNumeric, parseNumber } from './cell-number.ts';
import type { SizeUnit } from './measured-sample.ts';
import { meshOpening } from './mesh-openings.ts';
import { type Question, question, type ReadOptions } from './reading-questions.ts';

/** A size as a cell gives it: one size, both ends of a class, or an open end. [m] once scaled. */
export interface SizeCell {
  readonly lower?: number;
  readonly upper?: number;
  readonly size?: number;
  readonly unit?: SizeUnit;
  /** A pan by name: what passed the finest sieve. */
  readonly pan?: true;
}

const PAN = /^(?:pan|bottom|boden|fond|receiver|schale|fines?|rest|fondo)$/i;
const UNIT_WORD = /(nm|[µμu]m|microns?|mm|mesh|m)$/i;
const NUMBERED = /^(?:no\.?|#|nr\.?|mesh)\s*(\d+)$/i;
const RANGE = /^([\d.,]+)\s*(?:-|–|—|\.\.+|to|bis)\s*([\d.,]+)$/i;

/** Whether a cell can be a size: a number, with unit, `No. 140`, a range, `<63` or the pan. */
export function isSizeLike(cell: string): boolean {
  const text = cell.trim();
  if (text === '') return false;
  if (PAN.test(text) || NUMBERED.test(text)) return true;
  const bare = withoutUnit(text);
  return isNumeric(bare) || RANGE.test(bare);
}

/** Size of a cell in the unit it is written in; undefined where the cell holds none. */
export function readSize(cell: string, decimal: DecimalSign): SizeCell | undefined {
  const text = cell.trim();
  if (PAN.test(text)) return { lower: 0, size: 0, pan: true };
  const numbered = NUMBERED.exec(text);
  if (numbered) return { size: Number(numbered[1]), unit: 'mesh' };
  const unit = unitOf(text);
  const bare = withoutUnit(text);
  const range = RANGE.exec(bare);
  const found = unit ? { unit } : {};
  if (range) {
    const ends = [parseNumber(range[1]!, decimal), parseNumber(range[2]!, decimal)];
    return { lower: Math.min(...ends), upper: Math.max(...ends), ...found };
  }
  if (!isNumeric(bare)) return undefined;
  const value = parseNumber(bare, decimal);
  if (/^[<≤]/.test(bare)) return { lower: 0, upper: value, ...found };
  if (/^[>≥]/.test(bare)) return { lower: value, upper: Number.POSITIVE_INFINITY, ...found };
  return { size: value, ...found };
}

function unitOf(text: string): SizeUnit | undefined {
  const word = UNIT_WORD.exec(text)?.[1]?.toLowerCase();
  if (!word) return undefined;
  if (word === 'nm' || word === 'mm' || word === 'mesh' || word === 'm') return word;
  return 'um';
}

function withoutUnit(text: string): string {
  return text.replace(UNIT_WORD, '').trim();
}

const SCALE: Readonly<Record<Exclude<SizeUnit, 'mesh'>, number>> = { nm: 1e9, um: 1e6, mm: 1e3, m: 1 };

/**
 * A size in its unit → metres.
 *
 * @returns [m], or the question or fault that stands in the way
 */
export function toMetres(
  value: number,
  unit: SizeUnit,
  options: ReadOptions,
  place: string,
): number | Fault | Question {
  if (value === 0 || value === Number.POSITIVE_INFINITY) return value;
  if (unit !== 'mesh') return value / SCALE[unit];
  if (!options.series) return question(place, 'sizes are in mesh, which needs its series', 'series');
  const opening = meshOpening(value, options.series);
  return typeof opening === 'number' ? opening : { place, message: opening };
}
