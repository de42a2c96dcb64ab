import { valueAt, withValue } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type AtTarget, COMPARED, type ComparedName, comparedAt } from './compared.ts';
import { LOWEST, type Matched, matchWheel, type Target } from './match.ts';

/** Factors of a wheel's cut that no drawing gives (`physics`: they stand at 1 until a trial fits them). */
const FACTORS = ['radialFactor', 'leanFactor', 'cutFactor', 'swirlFactor'] as const;
/** How far each is taken to be off (`assumed`, the spread used where nothing is fitted). */
export const OFF = 0.2;

/** Between what a value lies, SI; infinite where the target may not be reached. */
export interface Band {
  readonly low: number;
  readonly high: number;
}

/** A number of a wheel that is given as a range or as unknown, SI. */
export interface RangedNumber {
  readonly path: string;
  readonly low: number;
  readonly high: number;
  /** Unit it is shown in. */
  readonly unit: string;
}

/** What is known of a wheel's figures at the target. */
export interface Bands {
  readonly of: Readonly<Record<ComparedName, Band>>;
  /** Numbers of the wheel given as ranges. */
  readonly ranged: readonly RangedNumber[];
  /** Paths of factors and ranges within which the wheel does not reach the target. */
  readonly mayMiss: readonly string[];
}

/** Speeds of ends need not be found as finely as the wheel's own. */
const ROUGH = 1e-7;

/**
 * Bands of every figure of a wheel at the target: each factor of its cut may be 20 % off, and each number given as a range or
 * unknown lies anywhere in it, independently; root of the sum of squares. A speed that would have to be above the highest has
 * no upper end.
 */
export function bandsOf(
  scenario: Scenario,
  wheel: string,
  target: Target,
  fines: number,
  matched: AtTarget,
): Bands {
  const ranged = rangesOf(scenario, wheel);
  const here = comparedAt(matched, fines);
  const causes = [...ranged, ...factorsOf(scenario, wheel, ranged)];
  const near = { near: here.x50, tolerance: ROUGH };
  const ends = causes.map(({ path, low, high }) =>
    [low, high].map((value) => matchWheel(withValue(scenario, path, value), wheel, target, near)),
  );
  const names: readonly ComparedName[] = [...COMPARED, 'speed', 'fines'];
  const values = ends.map((pair) => pair.map((end) => (end.reached ? comparedAt(end, fines) : undefined)));
  const bandFor = (name: ComparedName): Band => {
    const moved = ends.map((pair, k) =>
      pair.flatMap(
        (end, e) => values[k]![e]?.[name] ?? (name === 'speed' ? [outOfReach(end, scenario, wheel)] : []),
      ),
    );
    return bandOver(
      here[name],
      moved.filter((each) => each.length > 0),
    );
  };
  const top = scenario.machine.wheels[wheel]!.maxSpeed;
  const of = Object.fromEntries(names.map((name) => [name, bandFor(name)])) as Record<ComparedName, Band>;
  const speed = of.speed.high > top ? { ...of.speed, high: Number.POSITIVE_INFINITY } : of.speed;
  return {
    of: { ...of, speed },
    ranged,
    mayMiss: causes.flatMap(({ path }, k) => (ends[k]!.every(({ reached }) => reached) ? [] : [path])),
  };
}

/** Numbers of a wheel that its file gives as a range or as unknown. */
export function rangesOf({ uncertain, provenance }: Scenario, wheel: string): RangedNumber[] {
  const start = `machine.wheels.${wheel}.`;
  return Object.entries(uncertain).flatMap(([path, [low, high]]) =>
    path.startsWith(start) ? [{ path, low, high, unit: provenance[path]?.unit ?? '1' }] : [],
  );
}

function factorsOf(scenario: Scenario, wheel: string, ranged: readonly RangedNumber[]): RangedNumber[] {
  return FACTORS.flatMap((name) => {
    const path = `machine.wheels.${wheel}.coefficients.${name}`;
    const value = valueAt(scenario, path);
    if (typeof value !== 'number' || ranged.some((each) => each.path === path)) return [];
    return [{ path, low: value * (1 - OFF), high: value * (1 + OFF), unit: '1' }];
  });
}

/** Speed of an end that does not reach the target: beyond the highest, or below the lowest looked at. */
function outOfReach(end: Matched, scenario: Scenario, wheel: string): number {
  const below = !end.reached && end.because === 'coarser than asked at rest';
  return below ? LOWEST * scenario.machine.wheels[wheel]!.maxSpeed : Number.POSITIVE_INFINITY;
}

/**
 * The band of a positive value about which each of several independent causes moves it to the given ends: root of the
 * sum of squares, above and below apart.
 *
 * @example bandOver(10, [[7, 13], [6, 10]]) // { low: 5, high: 13 }
 */
export function bandOver(value: number, ends: readonly (readonly number[])[]): Band {
  const below = ends.map((each) => Math.max(0, value - Math.min(...each)));
  const above = ends.map((each) => Math.max(0, Math.max(...each) - value));
  return { low: Math.max(0, value - Math.hypot(...below)), high: value + Math.hypot(...above) };
}

/** Whether two bands share a value: then the order of the two is not resolved. */
export function overlap(a: Band, b: Band): boolean {
  return a.low <= b.high && b.low <= a.high;
}
