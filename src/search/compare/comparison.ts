import { sizeAt } from '../../model/psd/curve.ts';
import { InputError } from '../../scenario/errors.ts';
import { toCase } from '../../scenario/operating-point.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Bands, bandsOf, rangesOf } from './band.ts';
import { type GeometryChange, geometryChanges } from './geometry-changes.ts';
import { type Matched, matchWheel, type Target, targetValue } from './match.ts';
import { compareRotors, type RotorAtTarget } from './rotors.ts';
import type { Matching } from './target.ts';
import { type Worth, worthOf } from './value-of-coefficient.ts';

/** One wheel at the fineness all are matched in. */
export interface WheelAtTarget {
  readonly name: string;
  readonly matched: Matched;
  /** Where reached: within what each of its figures lies. */
  readonly bands?: Bands;
  /** Where reached: what changes of its geometry do. */
  readonly changes?: readonly GeometryChange[];
  /** An earlier wheel of the file that is the same in everything. */
  readonly sameAs?: string;
}

/** Wheels side by side. */
export interface Comparison {
  readonly target: Target;
  /** Fines are the share below this size [m]. */
  readonly fines: number;
  readonly wheels: readonly WheelAtTarget[];
  /** The machine's own rotor and the others of the file at the same fineness; absent where the file names no others. */
  readonly rotors?: readonly RotorAtTarget[];
  /** Coefficients that are not the same on all wheels: only they change the product at equal fineness. */
  readonly unequal: readonly string[];
  /** What better coefficients would be worth, on the first wheel that reaches the target. */
  readonly worth?: { readonly wheel: string; readonly rows: readonly Worth[] };
}

interface ComparisonOptions extends Partial<Matching> {
  readonly fines?: number;
}

const FINES = 10e-6;
const FORM = ['sharpness', 'sharpnessLoading', 'bypass', 'bypassLoading', 'leakage', 'cutLoading'] as const;

/**
 * Every wheel of a scenario at equal fineness: the speed of each solved so that one quantity is the same. So is every rotor,
 * where the file names others than the machine's own.
 *
 * @throws InputError where the target is to be taken from settings that choke
 */
export function compareWheels(scenario: Scenario, options: ComparisonOptions = {}): Comparison {
  const { quantity = 'x95', expression, shownIn, fines = FINES } = options;
  const matching = { quantity, ...(expression ? { expression } : {}), ...(shownIn ? { shownIn } : {}) };
  const own = solvePoint(toCase(scenario));
  const target: Target = { ...matching, value: options.value ?? ownValue(own, matching) };
  // of several speeds with one value, the one whose product is like the file's own
  const near = own.status === 'steady' ? { near: sizeAt(own.curve, 0.5) } : {};
  const names = Object.keys(scenario.machine.wheels);
  const wheels = names.map((name, k): WheelAtTarget => {
    const sameAs = names.slice(0, k).find((other) => isSame(scenario, name, other));
    const same = sameAs === undefined ? {} : { sameAs };
    const matched = matchWheel(scenario, name, target, near);
    if (!matched.reached) return { name, matched, ...same };
    const bands = bandsOf(scenario, name, target, fines, matched);
    return { name, matched, bands, changes: geometryChanges(matched.scenario), ...same };
  });
  const first = wheels.find(({ name, matched }) => matched.reached && name === scenario.settings.wheel);
  const some = first ?? wheels.find(({ matched }) => matched.reached);
  return {
    target,
    fines,
    wheels,
    ...(scenario.machine.rotors ? { rotors: compareRotors(scenario, target) } : {}),
    unequal: unequalOf(scenario),
    ...(some ? { worth: { wheel: some.name, rows: worthOf(scenario, some.name, target, fines) } } : {}),
  };
}

function ownValue(point: Point, matching: Matching): number {
  if (point.status === 'steady') return targetValue(matching, point);
  const message = `the file's own settings choke, so there is no ${matching.quantity} to match: give one with --at, e.g. --at "65 um"`;
  throw new InputError([{ place: 'settings', message }]);
}

/** Whether two wheels are one wheel under two names: alike in every number, and no number open. */
function isSame(scenario: Scenario, one: string, other: string): boolean {
  const { wheels } = scenario.machine;
  if (rangesOf(scenario, one).length + rangesOf(scenario, other).length > 0) return false;
  return JSON.stringify(wheels[one]) === JSON.stringify(wheels[other]);
}

function unequalOf({ machine }: Scenario): string[] {
  const wheels = Object.values(machine.wheels);
  const differing = FORM.filter(
    (key) => new Set(wheels.map(({ coefficients }) => coefficients[key])).size > 1,
  );
  const laws = new Set(wheels.map(({ efficiency }) => efficiency.law)).size > 1 ? ['efficiency law'] : [];
  return [...differing, ...laws];
}
