import type { Case } from '../model/case.ts';
import type { Plant } from '../plant/plant.ts';
import { plantFrom, type StatedPlant } from '../plant/presets.ts';
import { treePath } from './path.ts';
import type { Scenario, Speed } from './scenario.ts';

/** Value of one factor at one point: SI number, or a name. */
export type FactorValue = number | string;

/** An operating point with what stands around the mill, where the scenario says. */
export interface SitedCase extends Case {
  readonly plant?: Plant;
}

/**
 * The operating point of a scenario in the model's terms (user's tree → `Case`): the chosen wheel, speeds as shaft
 * speeds.
 *
 * @param scenario checked scenario, SI
 * @returns the case; materials and geometry are shared with the scenario, not copied
 */
export function toCase(scenario: Scenario): SitedCase {
  const { machine, settings, components, air, blocks } = scenario;
  const wheel = machine.wheels[settings.wheel]!;
  return {
    components,
    rotor: machine.rotor,
    wheel,
    wheelName: settings.wheel,
    air,
    loop: machine,
    settings: {
      rotorSpeed: shaftSpeed(settings.rotorSpeed, machine.rotor.geometry.diameter),
      wheelSpeed: shaftSpeed(settings.wheelSpeed, wheel.geometry.diameter),
      feedRate: settings.feedRate,
    },
    ...(blocks.plant ? { plant: plantFrom(blocks.plant as StatedPlant) } : {}),
  };
}

/** Shaft speed [1/s] of a speed stated at the shaft or at the rim of `diameter` [m]. */
export function shaftSpeed(speed: Speed, diameter: number): number {
  return speed.as === 'shaft' ? speed.value : speed.value / (Math.PI * diameter);
}

/**
 * A scenario with one value changed by path; everything not on the path is shared with the old one.
 *
 * @param scenario checked scenario
 * @param path as in `sweep.factors`
 * @param value SI; a speed keeps the way (`shaft`, `rim`) given in `as`
 */
export function withValue(
  scenario: Scenario,
  path: string,
  value: FactorValue,
  as?: 'shaft' | 'rim',
): Scenario {
  const keys = treePath(scenario, path);
  return replaceAt(scenario, keys, 0, as && typeof value === 'number' ? { as, value } : value) as Scenario;
}

/**
 * A scenario at one point of a sweep. The wheel is chosen first, so that `wheel.…` means the chosen one.
 *
 * @param factors paths, with `as` for speeds
 * @param values one a factor, SI
 */
export function withValues(
  scenario: Scenario,
  factors: readonly { readonly path: string; readonly as?: 'shaft' | 'rim' }[],
  values: readonly FactorValue[],
): Scenario {
  let result = scenario;
  for (const first of [true, false]) {
    for (let i = 0; i < factors.length; i++) {
      const { path, as } = factors[i]!;
      if ((path === 'wheel' || path === 'settings.wheel') === first)
        result = withValue(result, path, values[i]!, as);
    }
  }
  return result;
}

/** Value at a path as `withValue` understands it; speeds come as their number. */
export function valueAt(scenario: Scenario, path: string): FactorValue | undefined {
  let node: unknown = scenario;
  for (const key of treePath(scenario, path)) {
    if (typeof node !== 'object' || node === null || !Object.hasOwn(node, key)) return undefined;
    node = (node as Record<string, unknown>)[key];
  }
  if (typeof node === 'object' && node !== null && 'as' in node) return (node as Speed).value;
  return typeof node === 'number' || typeof node === 'string' ? node : undefined;
}

/**
 * Value at a path; a speed is stated the way asked, whichever way the scenario states it.
 *
 * @param as `shaft` [1/s] or `rim` [m/s], of the rotor's tip or the chosen wheel's; as the scenario has it where absent
 */
export function valueAs(
  scenario: Scenario,
  path: string,
  as: Speed['as'] | undefined,
): FactorValue | undefined {
  const name = path.replace(/^settings\./, '');
  if (as === undefined || (name !== 'rotorSpeed' && name !== 'wheelSpeed')) return valueAt(scenario, path);
  const { machine, settings } = scenario;
  const speed = settings[name];
  if (speed.as === as) return speed.value;
  const part = name === 'rotorSpeed' ? machine.rotor : machine.wheels[settings.wheel]!;
  const { diameter } = part.geometry;
  const shaft = shaftSpeed(speed, diameter);
  return as === 'shaft' ? shaft : shaft * Math.PI * diameter;
}

function replaceAt(node: unknown, keys: readonly string[], depth: number, value: unknown): unknown {
  if (depth === keys.length) return value;
  const key = keys[depth]!;
  if (Array.isArray(node)) {
    const copy = node.slice();
    copy[Number(key)] = replaceAt(node[Number(key)], keys, depth + 1, value);
    return copy;
  }
  const record = node as Record<string, unknown>;
  return { ...record, [key]: replaceAt(record[key], keys, depth + 1, value) };
}
