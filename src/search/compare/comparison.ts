import { InputError } from '../../scenario/errors.ts';
import { toCase } from '../../scenario/operating-point.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Band, speedBand } from './band.ts';
import { type Matched, matchWheel, type Target } from './match.ts';
import { compareRotors, type RotorAtTarget } from './rotors.ts';
import { type Slope, slopesOf } from './slopes.ts';
import { type Worth, worthOf } from './value-of-coefficient.ts';

/** One wheel at the fineness all are matched in. */
export interface WheelAtTarget {
  readonly name: string;
  readonly matched: Matched;
  /** Where reached. */
  readonly band?: Band;
  readonly slopes?: readonly Slope[];
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

export interface ComparisonOptions {
  readonly quantity?: string;
  /** SI; the value at the scenario's own settings unless given. */
  readonly value?: number;
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
  const quantity = options.quantity ?? 'x95';
  const target = { quantity, value: options.value ?? ownValue(scenario, quantity) };
  const fines = options.fines ?? FINES;
  const wheels = Object.keys(scenario.machine.wheels).map((name): WheelAtTarget => {
    const matched = matchWheel(scenario, name, target);
    if (!matched.reached) return { name, matched };
    const band = speedBand(scenario, name, target, matched.speed);
    return { name, matched, band, slopes: slopesOf(matched.scenario) };
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

function ownValue(scenario: Scenario, quantity: string): number {
  const point = solvePoint(toCase(scenario));
  if (point.status === 'steady') return quantityNamed(quantity)!.of(point);
  const message = `the file's own settings choke, so there is no ${quantity} to match: give one with --at, e.g. --at "65 um"`;
  throw new InputError([{ place: 'settings', message }]);
}

function unequalOf({ machine }: Scenario): string[] {
  const wheels = Object.values(machine.wheels);
  const differing = FORM.filter(
    (key) => new Set(wheels.map(({ coefficients }) => coefficients[key])).size > 1,
  );
  const laws = new Set(wheels.map(({ efficiency }) => efficiency.law)).size > 1 ? ['efficiency law'] : [];
  return [...differing, ...laws];
}
