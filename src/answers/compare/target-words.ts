import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber, formatQuantity, labelOf, toShown } from '../../scenario/units/display.ts';
import type { Band } from '../../search/compare/band.ts';
import type { AtTarget } from '../../search/compare/compared.ts';
import type { Comparison, WheelAtTarget } from '../../search/compare/comparison.ts';
import type { Target } from '../../search/compare/match.ts';
import type { Measure } from '../measure.ts';
import { nameInWords, pageUnit, quantityMeasure } from '../words.ts';

/** A wheel that reaches the target. */
export type ReachedWheel = WheelAtTarget & { readonly matched: AtTarget } & Required<
    Pick<WheelAtTarget, 'bands'>
  >;

/** The wheels that reach the target, in the order of the file. */
export function reachedWheels({ wheels }: Comparison): ReachedWheel[] {
  return wheels.filter((wheel): wheel is ReachedWheel => wheel.matched.reached && wheel.bands !== undefined);
}

/** Unit in which what is matched is shown. */
export function targetUnit({ quantity, shownIn }: Pick<Target, 'quantity' | 'shownIn'>): string {
  return shownIn ?? pageUnit(quantity);
}

/** What is matched, as an axis shows it. */
export function targetMeasure(target: Target): Measure {
  if (!target.expression) return quantityMeasure(target.quantity);
  return { name: target.quantity.trim(), unit: labelOf(targetUnit(target)) };
}

/** The target in words: `x95 65.6 µm`, `60 % below 75 µm`, `x90/x10 = 6.3`. */
export function targetWords({ target }: Pick<Comparison, 'target'>): string {
  const { quantity, expression, value } = target;
  if (!expression) return `${nameInWords(quantity)} ${formatQuantity(value, targetUnit(target), 4)}`;
  const side = { passing: 'below', oversize: 'above' } as const;
  if (expression.kind === 'quantity' && expression.argument !== undefined && expression.name in side) {
    const where = side[expression.name as keyof typeof side];
    return `${formatQuantity(value, '%', 4)} ${where} ${formatQuantity(expression.argument, 'um', 4)}`;
  }
  return `${quantity.trim()} = ${formatQuantity(value, targetUnit(target), 4)}`;
}

/** Settings the comparison holds still. */
export function heldWords({ settings }: Scenario, comparison: Comparison): string {
  const one = reachedWheels(comparison)[0];
  const rotor = one ? `rotor ${rpm(one.matched.solved.case.settings.rotorSpeed)} rpm, ` : '';
  return `${rotor}${formatQuantity(settings.feedRate, 'kg/h', 4)}`;
}

/** A shaft speed in rpm, its number alone. */
export function rpm(speed: number): string {
  return formatNumber(toShown(speed, 'rpm'), 4);
}

/** Relative width below which a range is not worth showing. */
const NARROW = 0.005;

/** A value with its range: `24.1 (22 to 27)`; an end beyond what the machine does is `not reached`. */
export function rangeText(value: number, band: Band | undefined, unit: string, digits = 3): string {
  const text = (each: number) =>
    Number.isFinite(each) ? formatNumber(toShown(each, unit), digits) : 'not reached';
  if (!band || !isWide(value, band)) return text(value);
  return `${text(value)} (${text(band.low)} to ${text(band.high)})`;
}

/** Whether a band is wide enough to be shown. */
export function isWide(value: number, { low, high }: Band): boolean {
  return !(high - low < NARROW * Math.abs(value));
}
