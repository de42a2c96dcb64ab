import type { Parameter } from '../../model/parameters.ts';
import { fromShown, isShownUnit } from './display.ts';
import { kindOf } from './kinds.ts';
import { sieveOpening } from './mesh.ts';
import { plainSymbols } from './normalise.ts';
import { unitMeaning } from './unit.ts';
import { isProblem, type Problem, problem } from './unit-problem.ts';

/** Which kind of value is wanted: SI unit, and the unit people write by habit. */
export type Wanted = Pick<Parameter, 'unit' | 'shownIn'>;

/** A value in SI and the unit it is shown in. */
export interface Value {
  readonly value: number;
  readonly shownIn: string;
}

const NUMBER = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(.*)$/s;
const LONGEST_TEXT = 200;

/**
 * Reads a number with its unit, e.g. `1500 m³/h`, `20 °C`, `50 %`, `200 mesh`.
 *
 * @param text as typed
 * @param wanted kind of value
 * @returns SI value, or the problem in words
 * @example parseValue('75 µm', { unit: 'm', shownIn: 'um' }) // { value: 75e-6, shownIn: 'um' }
 */
export function parseValue(text: string, wanted: Wanted): Value | Problem {
  const split = splitNumber(text, wanted);
  if (isProblem(split)) return split;
  const { number, unit } = split;
  if (/^mesh$/i.test(unit)) return meshValue(number, wanted);
  if (unit === '' && wanted.unit !== '1') return noUnit(text, wanted);
  const meaning = unitMeaning(unit, wanted.unit);
  if (isProblem(meaning)) return meaning;
  if (meaning.hertz && wanted.shownIn === 'rpm') return HERTZ;
  const { shownIn } = meaning;
  const value =
    wanted.unit === 'K' && wanted.shownIn !== 'degC'
      ? number * meaning.factor
      : shownIn
        ? fromShown(number, shownIn)
        : number * meaning.factor + meaning.offset;
  if (!Number.isFinite(value)) return problem(`must be a finite number, is ${quoted(text)}`);
  if (wanted.unit === 'K' && wanted.shownIn !== 'degC') return { value, shownIn: wanted.shownIn };
  return { value, shownIn: shownIn ?? wanted.shownIn };
}

const HERTZ = problem(
  'is in Hz, but a drive frequency is not a shaft speed; write rpm, or say what the drive does, e.g. machine.drives: { wheel: 50 Hz = 3000 rpm }',
);

/**
 * Reads `50..70 mm` or `50 mm .. 70 mm`.
 *
 * @returns both ends in SI, low first; undefined where the text is no range
 */
export function parseRange(text: string, wanted: Wanted): { low: Value; high: Value } | Problem | undefined {
  const ends = text.split(/\.\.+|…/);
  if (ends.length !== 2 || !ends[0]!.trim() || !ends[1]!.trim()) return undefined;
  const high = parseValue(ends[1]!, wanted);
  if (isProblem(high)) return high;
  const bare = NUMBER.exec(plainSymbols(ends[0]!))?.[2] === '';
  const unit = NUMBER.exec(plainSymbols(ends[1]!))?.[2] ?? '';
  const low = parseValue(bare ? `${ends[0]!.trim()} ${unit}` : ends[0]!, wanted);
  if (isProblem(low)) return low;
  if (!(low.value < high.value)) return problem(`must run from low to high, is ${text}`);
  return { low, high };
}

/** Number and unit text of a typed value, with the usual slips named. */
export function splitNumber(text: string, wanted: Wanted): { number: number; unit: string } | Problem {
  if (text.length > LONGEST_TEXT)
    return problem(`must be a number with its unit, is ${text.length} characters long`);
  const plain = plainSymbols(text).replace(/^(?:mesh|no\.)\s*(\d+)$/i, '$1 mesh');
  if (plain === '') return problem(`must be ${kindOf(wanted.unit)}${example(wanted)}, is empty`);
  if (/\d,\d/.test(plain)) {
    return problem(`use a decimal point and no thousands separator: ${pointed(text)}, not ${text.trim()}`);
  }
  const match = NUMBER.exec(plain);
  if (!match) return problem(`must be ${kindOf(wanted.unit)}${example(wanted)}, is ${quoted(text)}`);
  const number = Number(match[1]);
  if (!Number.isFinite(number)) return problem(`must be a finite number, is ${quoted(text)}`);
  if (/^(?!1\/)[\d'’]/.test(match[2]!))
    return problem(`must be one number without spaces in it, is ${quoted(text)}`);
  return { number, unit: match[2]!.trim() };
}

/** What a text with a decimal comma or commas between thousands was meant as: 150.5 kg/h, or both readings of 1,500. */
function pointed(text: string): string {
  const match = /^(.*?)([\d.,]+)(.*)$/s.exec(text.trim())!;
  const [, before, digits, after] = match as unknown as [string, string, string, string];
  const write = (number: string) => `${before}${number}${after}`;
  const last = Math.max(digits.lastIndexOf(','), digits.lastIndexOf('.'));
  const whole = digits.slice(0, last).replace(/[.,]/g, '');
  const decimals = digits.slice(last + 1);
  const signs = digits.replace(/\d/g, '');
  if (signs.length === 1 && decimals.length === 3 && !/^0/.test(whole))
    return `${write(whole + decimals)} or ${write(`${whole}.${decimals}`)}`;
  const thousands = signs.length > 1 && new Set(signs).size === 1;
  return thousands ? write(whole + decimals) : write(`${whole}.${decimals}`);
}

function noUnit(text: string, wanted: Wanted): Problem {
  const unit = isShownUnit(wanted.shownIn) ? wanted.shownIn : wanted.unit;
  return problem(`has no unit; write ${text.trim()} ${unit}`);
}

function meshValue(number: number, wanted: Wanted): Value | Problem {
  if (wanted.unit !== 'm') return problem(`must be ${kindOf(wanted.unit)}, but mesh is a sieve size`);
  const opening = sieveOpening(number);
  return isProblem(opening) ? opening : { value: opening, shownIn: 'um' };
}

function example(wanted: Wanted): string {
  return wanted.shownIn === '1' ? '' : ` with its unit, e.g. in ${wanted.shownIn}`;
}

/** A typed text inside a message, cut where it is long. */
export function quoted(text: string): string {
  const line = text.replace(/\s+/g, ' ');
  return line.length > 60 ? `"${line.slice(0, 57)}…"` : `"${line}"`;
}
