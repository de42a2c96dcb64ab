import type { Rotor } from '../../model/case.ts';
import { ROTOR_COEFFICIENTS } from '../../model/parameters/rotor-parameters.ts';
import { toCase, valueAt, withValue } from '../../scenario/operating-point.ts';
import { rotorTooFast } from '../../scenario/outcome/overspeed.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Band, bandOver, OFF } from './band.ts';
import { type Matched, matchWheel, type Target } from './match.ts';

/** What the machine's own rotor is called beside the others; no name in a file can have a space. */
const OWN = 'machine’s own';

/** Factors of a rotor that no drawing gives. */
const FACTORS = ['velocityRatio', 'hitFactor', 'crowdingLoad', 'idleNumber', 'powerFactor'] as const;

/** One rotor at the fineness all are matched in, the chosen wheel behind it. */
export interface RotorAtTarget {
  readonly name: string;
  readonly matched: Matched;
  /** Of the specific energy [J/kg], where reached; infinite above where a factor that is off puts the target out of reach. */
  readonly band?: Band;
}

/** The machine's own rotor and the others of the file, by name. */
export function rotorNames({ machine }: Scenario): string[] {
  return [OWN, ...Object.keys(machine.rotors ?? {})];
}

/** A scenario with another of its rotors in the machine. */
export function withRotor(scenario: Scenario, name: string): Scenario {
  const { machine } = scenario;
  const rotor: Rotor | undefined = name === OWN ? machine.rotor : machine.rotors?.[name];
  return rotor ? { ...scenario, machine: { ...machine, rotor } } : scenario;
}

/**
 * Every rotor of a scenario at equal fineness: the rotor at the speed the scenario states (shaft, or tip), the speed of the
 * chosen wheel solved so that one quantity is the same.
 */
export function compareRotors(scenario: Scenario, target: Target): RotorAtTarget[] {
  return rotorNames(scenario).map((name): RotorAtTarget => {
    const at = withRotor(scenario, name);
    const matched = matchBehind(at, target);
    return matched.reached
      ? { name, matched, band: energyBand(at, target, matched.solved) }
      : { name, matched };
  });
}

function matchBehind(scenario: Scenario, target: Target): Matched {
  const c = toCase(scenario);
  const wheel = scenario.settings.wheel;
  if (!rotorTooFast(c)) return matchWheel(scenario, wheel, target);
  const speed = c.settings.wheelSpeed;
  return { reached: false, wheel, nearest: Number.NaN, speed, because: 'rotor too fast' };
}

/** Specific energy at the target when each factor of the rotor may be 20 % off, independently. */
function energyBand(scenario: Scenario, target: Target, solved: Solved): Band {
  const ends = FACTORS.flatMap((name) => {
    const path = `machine.rotor.coefficients.${name}`;
    const value = valueAt(scenario, path);
    if (typeof value !== 'number') return [];
    const highest =
      ROTOR_COEFFICIENTS.find((each) => each.name === name)!.maximum ?? Number.POSITIVE_INFINITY;
    return [
      [1 - OFF, 1 + OFF].map((factor) => {
        const off = withValue(scenario, path, Math.min(highest, value * factor));
        const matched = matchWheel(off, scenario.settings.wheel, target);
        return matched.reached ? energyOf(matched.solved) : Number.POSITIVE_INFINITY;
      }),
    ];
  });
  return bandOver(energyOf(solved), ends);
}

/** Specific energy of a solved point [J/kg]. */
export function energyOf(solved: Solved): number {
  return quantityNamed('specificEnergy')!.of(solved);
}
