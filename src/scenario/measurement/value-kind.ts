import type { Fault } from '../errors.ts';
import type { DensityUnit } from './density-classes.ts';
import type { Role } from './heading.ts';
import { type Question, question, type ReadOptions, type ValueKind } from './reading-questions.ts';

/** How far a sum may miss 100 % and still be one. */
const SUM_TOLERANCE = 0.02;
/** Rise or fall that counts as rounding in a cumulative column, as a share. */
const ROUNDING = 2e-4;

const WHOLE_CURVE = 5;

/** What the values of a column are and the number that stands for the whole (100, 1, or the mass). */
export interface Meaning {
  readonly kind: ValueKind;
  /** Value that is the whole; undefined for masses, whose whole is their sum. */
  readonly whole?: number;
  /** Unit a density is per, where the heading names it. */
  readonly per?: DensityUnit;
}

/**
 * Meaning of a column's values, from its heading, the options, and what the numbers allow; asked for where more than one
 * meaning fits.
 *
 * @param role what the heading says
 * @param values by ascending size, without gaps
 * @param percent whether the heading says percent
 * @param heading its words, where the unit of a density may stand
 */
export function meaningOf(
  role: Role,
  values: readonly number[],
  percent: boolean,
  options: ReadOptions,
  place: string,
  heading = '',
): Meaning | Fault | Question {
  if (options.kind === 'retained-mass' || (!options.kind && role === 'mass'))
    return { kind: 'retained-mass' };
  const kind = options.kind ?? role;
  if (kind === 'density' || kind === 'log-density') {
    const per = kind === 'density' ? perUnit(heading) : undefined;
    return { kind, ...(per ? { per } : {}) };
  }
  const whole = wholeOf(values, percent, options);
  if (whole === undefined) return question(place, 'the values may be percent or fractions of one', 'values');
  const fitting = options.kind ? [options.kind] : kindsFor(role, values, whole);
  if (fitting.length === 1) return { kind: fitting[0]!, whole };
  const reason =
    fitting.length === 0
      ? 'the values neither rise nor fall all the way, nor sum to 100 %'
      : `the values can be read as ${fitting.join(' or ')}`;
  return question(place, reason, 'kind');
}

function perUnit(heading: string): DensityUnit | undefined {
  const word =
    /(?:(?:1|%)\s*\/|per)\s*(nm|[µμu]m|mm|micron)/i.exec(heading)?.[1] ??
    /(nm|[µμu]m|mm)(?:\^?-1|⁻¹)/i.exec(heading)?.[1];
  if (!word) return undefined;
  const unit = word.toLowerCase();
  return unit === 'nm' || unit === 'mm' ? unit : 'um';
}

function wholeOf(values: readonly number[], percent: boolean, options: ReadOptions): number | undefined {
  if (options.values) return options.values === 'percent' ? 100 : 1;
  const most = values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  // a whole curve that ends at 1 under a heading of percent is one of the two by mistake
  if (percent && values.length >= WHOLE_CURVE && Math.abs(most - 1) <= SUM_TOLERANCE) return undefined;
  if (percent || most > 1 + SUM_TOLERANCE) return 100;
  const sum = values.reduce((a, b) => a + b, 0);
  if (Math.abs(most - 1) <= SUM_TOLERANCE || Math.abs(sum - 1) <= SUM_TOLERANCE) return 1;
  if (Math.abs(sum - 100) <= 100 * SUM_TOLERANCE) return 100;
  return undefined;
}

function kindsFor(role: Role, values: readonly number[], whole: number): ValueKind[] {
  if (role === 'undersize' || role === 'oversize' || role === 'in-class') return [role];
  const shares = values.map((value) => value / whole);
  const within = shares.every((share) => share <= 1 + SUM_TOLERANCE);
  const steps = shares.slice(1).map((share, i) => share - shares[i]!);
  const several = shares.length > 1;
  const rises = several && within && steps.every((step) => step >= -ROUNDING);
  const falls = several && within && steps.every((step) => step <= ROUNDING);
  const sums = Math.abs(shares.reduce((a, b) => a + b, 0) - 1) <= SUM_TOLERANCE;
  const kinds: ValueKind[] = [];
  if (rises && (role === 'cumulative' || role === 'unknown')) kinds.push('undersize');
  if (role === 'retained' && !several) return ['oversize'];
  if (falls) kinds.push('oversize');
  if (sums && role !== 'cumulative' && several) kinds.push('in-class');
  // a curve that reaches 100 % at its last size sums to more than one, so the two never both hold for more than a step
  return kinds;
}
