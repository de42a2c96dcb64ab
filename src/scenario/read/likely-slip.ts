import type { Parameter } from '../../model/parameters.ts';
import {
  formatNumber,
  formatQuantity,
  fromShown,
  isShownUnit,
  labelOf,
  shownUnits,
  siUnitOf,
  toShown,
} from '../units/display.ts';
import { outOfRange } from './out-of-range.ts';

/** How far beyond the prior of a coefficient its usual range reaches, as a factor. */
const BEYOND_PRIOR = 3;
/** Units of a pure number that are typed by mistake for one another. */
const PURE_UNITS = ['1', '%'];
/** Units nobody types by mistake for a metric one. */
const NOT_METRIC = ['inch', 'ft', 'lb', 'lb/h', 'cfm'];

/** Dimensions of the same block already read, SI: what relative ranges are multiples of. */
export type Neighbours = Readonly<Record<string, number>>;

/**
 * The range in which values of a parameter are usually found, SI: its own, else its prior widened threefold.
 *
 * @returns undefined where the parameter names none, or its neighbour is not known
 */
function usualRange(
  parameter: Parameter,
  neighbours: Neighbours = {},
): readonly [low: number, high: number] | undefined {
  const { usual, prior } = parameter;
  if (usual) return scaled(usual, neighbours);
  if (!prior) return undefined;
  const range = scaled(prior, neighbours);
  if (!range) return undefined;
  const [low, high] = range;
  return [low > 0 ? low / BEYOND_PRIOR : low * BEYOND_PRIOR, high * BEYOND_PRIOR];
}

function scaled(
  { low, high, of }: NonNullable<Parameter['usual']>,
  neighbours: Neighbours,
): readonly [number, number] | undefined {
  if (of === undefined) return [low, high];
  const size = neighbours[of];
  return size === undefined || !Number.isFinite(size) ? undefined : [low * size, high * size];
}

/**
 * What was probably meant by a value outside its range: the same number in another unit of the kind, without its point
 * between thousands, or without its minus.
 *
 * @param text as typed
 * @param value SI
 * @returns e.g. `1.35 kJ/(kg K)`, or undefined where no such slip explains it
 */
export function likelySlip(
  text: string,
  value: number,
  shownIn: string,
  parameter: Parameter,
  neighbours: Neighbours = {},
): string | undefined {
  if (!isShownUnit(shownIn)) return undefined;
  const number = toShown(value, shownIn);
  const [low, high] = usualRange(parameter, neighbours) ?? [Number.NaN, Number.NaN];
  const fits = (si: number) => si >= low && si <= high && outOfRange(si, parameter, shownIn) === undefined;
  if (hasThousandsPoint(text) && fits(fromShown(1000 * number, shownIn)))
    return formatQuantity(fromShown(1000 * number, shownIn), shownIn, 6);
  const units = otherUnits(shownIn, parameter).filter((unit) => fits(fromShown(number, unit)));
  const middle = low > 0 ? Math.sqrt(low * high) : high / 2;
  const distance = (unit: string) => Math.abs(Math.log(fromShown(number, unit) / middle));
  const [unit] = units.includes(parameter.shownIn)
    ? [parameter.shownIn]
    : units.toSorted((a, b) => distance(a) - distance(b));
  if (unit === '1') return formatQuantity(number, '%', 6);
  if (unit !== undefined) return `${Number(number.toPrecision(6))} ${labelOf(unit)}`.trim();
  if (number < 0 && fits(fromShown(-number, shownIn)))
    return formatQuantity(fromShown(-number, shownIn), shownIn, 6);
  return undefined;
}

/** `1.500`: one to three digits, a point, and three digits, as thousands are written in German. */
export function hasThousandsPoint(text: string): boolean {
  return /^\s*\+?[1-9]\d{0,2}\.\d{3}(?!\d)/.test(text);
}

function otherUnits(shownIn: string, parameter: Parameter): readonly string[] {
  const si = siUnitOf(shownIn);
  const same =
    si === '1'
      ? PURE_UNITS
      : shownUnits().filter((unit) => siUnitOf(unit) === si && !NOT_METRIC.includes(unit));
  return parameter.integer ? [] : same.filter((unit) => unit !== shownIn);
}

/** Tail of a fault: `; did you mean 15 kW?`; empty where no slip explains it. */
export function meantValue(slip: string | undefined): string {
  return slip === undefined ? '' : `; did you mean ${slip}?`;
}

/**
 * Why a value that is allowed is still questioned: it lies outside what is found in practice, or reads as thousands
 * written with a point.
 *
 * @returns the sentence, or undefined where nothing is odd
 */
export function questionOf(
  text: string,
  value: number,
  shownIn: string,
  parameter: Parameter,
  neighbours: Neighbours = {},
): string | undefined {
  const range = usualRange(parameter, neighbours);
  if (!range || !isShownUnit(shownIn)) return undefined;
  const [low, high] = range;
  const slip = likelySlip(text, value, shownIn, parameter, neighbours);
  if (value < low || value > high) {
    const unit = slip === undefined ? shownIn : parameter.shownIn;
    const ends = `${formatNumber(toShown(low, unit), 3)} to ${formatQuantity(high, unit, 3)}`;
    return `${formatQuantity(value, shownIn)} is outside the usual range, ${ends}${meantValue(slip)}`;
  }
  return hasThousandsPoint(text) && slip !== undefined
    ? `is read as ${formatQuantity(value, shownIn)}; a point separates decimals here; did you mean ${slip}?`
    : undefined;
}
