import type { Kept } from '../../model/loop/workspace.ts';
import { toCase } from '../../scenario/operating-point.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Trial } from '../trial.ts';
import type { Coefficient } from './coefficient.ts';
import { type Setter, setterOf } from './setter.ts';

/**
 * The model of many trials in turn: materials are made ready once for a vector of coefficients, however many trials are
 * solved with it. A point must be read before the next is asked for, since its arrays are used again.
 *
 * @returns the point of a trial at given places of the coefficients along their scales
 */
export function trialModel(
  coefficients: readonly Coefficient[],
): (trial: Trial, coordinates: readonly number[]) => Point {
  const kept: Kept = {};
  const ofMaterial = (path: string): boolean => /^(material|components|feed)\./.test(path);
  const setters = new WeakMap<Scenario, { readonly material: Setter; readonly machine: Setter }>();
  let last: { from: Scenario['components']; at: readonly number[]; made: Scenario['components'] } | undefined;
  return (trial, coordinates) => {
    const { scenario } = trial;
    let own = setters.get(scenario);
    if (!own) {
      own = {
        material: setterOf(scenario, coefficients, ofMaterial),
        machine: setterOf(scenario, coefficients, (path) => !ofMaterial(path) && acts(path, scenario)),
      };
      setters.set(scenario, own);
    }
    if (last?.from !== scenario.components || !same(last.at, coordinates, own.material.uses)) {
      const made = own.material.set(coordinates).components;
      last = { from: scenario.components, at: coordinates, made };
    }
    return solvePoint(toCase({ ...own.machine.set(coordinates), components: last.made }), {
      choke: false,
      kept,
    });
  };
}

/** Whether what stands at a path shows at a scenario's settings: not what belongs to another wheel. */
function acts(path: string, { settings }: Scenario): boolean {
  return !path.startsWith('machine.wheels.') || path.startsWith(`machine.wheels.${settings.wheel}.`);
}

function same(one: readonly number[], other: readonly number[], at: readonly number[]): boolean {
  return one === other || at.every((i) => one[i] === other[i]);
}
