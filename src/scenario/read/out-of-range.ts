import type { Parameter } from '../../model/parameters.ts';
import { formatQuantity, isShownUnit } from '../units/display.ts';

/** Why a value is outside what its parameter allows; undefined where it is inside. */
export function outOfRange(value: number, parameter: Parameter, shownIn: string): string | undefined {
  const unit = isShownUnit(shownIn) ? shownIn : parameter.shownIn;
  const show = (limit: number) => formatQuantity(limit, unit);
  const { exclusiveMinimum, minimum, exclusiveMaximum, maximum } = parameter;
  const found = `is ${show(value)}`;
  if (!Number.isFinite(value)) return 'must be a finite number';
  if (exclusiveMinimum !== undefined && value <= exclusiveMinimum)
    return `must be > ${show(exclusiveMinimum)}, ${found}`;
  if (minimum !== undefined && value < minimum) return `must be ≥ ${show(minimum)}, ${found}`;
  if (exclusiveMaximum !== undefined && value >= exclusiveMaximum)
    return `must be < ${show(exclusiveMaximum)}, ${found}`;
  if (maximum !== undefined && value > maximum) return `must be ≤ ${show(maximum)}, ${found}`;
  if (parameter.integer && !Number.isInteger(value)) return `must be a whole number, ${found}`;
  return undefined;
}
