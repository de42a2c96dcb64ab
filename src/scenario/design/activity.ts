import type { Factor } from '../scenario.ts';
import { factorValue, gridCoordinates, isNamed } from './coordinate.ts';
import type { Activity } from './design.ts';

/** The operating point, as plain data, at given values of some factors; the others as the scenario has them. */
export type PointOf = (values: ReadonlyMap<string, number | string>) => unknown;

/**
 * Finds which factors change the operating point at each combination of names, by comparing the points at both ends
 * (all levels) of each factor. Remembers what it found.
 */
export function activityOf(factors: readonly Factor[], pointOf: PointOf): Activity {
  const known = new Map<number, readonly boolean[]>();
  const codes = factors.map(nameCodes);
  return (coordinates) => {
    let key = 0;
    for (let j = 0; j < factors.length; j++) {
      const code = codes[j];
      if (code !== undefined) key = key * (code.names + 1) + (code.of[coordinates[j]!] ?? code.names);
    }
    let found = known.get(key);
    if (found === undefined) {
      found = probe(factors, coordinates, pointOf);
      known.set(key, found);
    }
    return found;
  };
}

/** Number of each level's name, repeats counted once; nothing for a factor of numbers. */
function nameCodes(factor: Factor): { readonly names: number; readonly of: readonly number[] } | undefined {
  if (factor.kind !== 'levels' || !isNamed(factor)) return undefined;
  const names = [...new Set(factor.levels)];
  const place = new Map(names.map((name, k) => [name, k]));
  return { names: names.length, of: factor.levels.map((level) => place.get(level)!) };
}

function probe(factors: readonly Factor[], coordinates: Float64Array, pointOf: PointOf): boolean[] {
  const names = new Map<string, number | string>();
  factors.forEach((factor, j) => {
    const level = coordinates[j]!;
    if (isNamed(factor) && !Number.isNaN(level)) names.set(factor.path, factorValue(factor, level));
  });
  return factors.map((factor) => {
    const tried = telling(factor);
    const first = fingerprint(factor, tried[0]!, names, pointOf);
    for (let k = 1; k < tried.length; k++) {
      if (fingerprint(factor, tried[k]!, names, pointOf) !== first) return true;
    }
    return tried.length === 1;
  });
}

/** Both ends of a range, or each name once. */
function telling(factor: Factor): readonly number[] {
  const all = gridCoordinates(factor, 2);
  if (factor.kind === 'number' || !isNamed(factor)) {
    const low = all.reduce((least, value) => Math.min(least, value));
    const high = all.reduce((most, value) => Math.max(most, value));
    return low === high ? [low] : [low, high];
  }
  const first = new Map<number | string, number>();
  factor.levels.forEach((name, k) => {
    if (!first.has(name)) first.set(name, k);
  });
  return [...first.values()];
}

function fingerprint(
  factor: Factor,
  coordinate: number,
  names: ReadonlyMap<string, number | string>,
  pointOf: PointOf,
): string {
  const values = new Map(names);
  values.set(factor.path, factorValue(factor, coordinate));
  return JSON.stringify(pointOf(values));
}

/** Blanks the coordinates of factors that change nothing at this point. */
export function blankInactive(coordinates: Float64Array, activity: Activity): void {
  const active = activity(coordinates);
  for (let j = 0; j < active.length; j++) if (!active[j]) coordinates[j] = Number.NaN;
}
