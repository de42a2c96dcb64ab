import { type Fault, InputError } from '../scenario/errors.ts';

/** What the number of an option must be. */
export interface Bounds {
  readonly least?: number;
  /** The number itself is not allowed, e.g. a density of 0. */
  readonly above?: number;
  readonly most?: number;
  readonly whole?: boolean;
}

/** A seed of random numbers. */
export const SEED: Bounds = { whole: true, least: 0, most: 2 ** 32 - 1 };

/**
 * Refuses numbers of options outside their bounds, all at once; an option that was not stated is in order.
 *
 * @throws InputError naming option, rule and value
 */
export function refuseOutside(
  options: Readonly<Record<string, unknown>>,
  bounds: Readonly<Record<string, Bounds>>,
): void {
  const faults = Object.entries(bounds).flatMap(([name, of]): Fault[] => {
    const value = options[name];
    if (value === undefined || isWithin(Number(value), of)) return [];
    return [{ place: `--${name}`, message: `must be ${inWords(of)}, is ${String(value)}` }];
  });
  if (faults.length > 0) throw new InputError(faults);
}

function isWithin(value: number, { least, above, most, whole }: Bounds): boolean {
  return (
    Number.isFinite(value) &&
    (!whole || Number.isInteger(value)) &&
    value >= (least ?? Number.NEGATIVE_INFINITY) &&
    value > (above ?? Number.NEGATIVE_INFINITY) &&
    value <= (most ?? Number.POSITIVE_INFINITY)
  );
}

function inWords({ least, above, most, whole }: Bounds): string {
  const kind = whole ? 'a whole number' : 'a number';
  if (above !== undefined) return `${kind} above ${above}${most === undefined ? '' : `, at most ${most}`}`;
  return most === undefined ? `${kind}, at least ${least}` : `${kind} from ${least} to ${most}`;
}
