import type { Kept } from '../../model/loop/workspace.ts';
import { toCase } from '../../scenario/operating-point.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Trial } from '../trial.ts';
import { type Coefficient, withCoefficients } from './coefficients.ts';

/**
 * The model of many trials in turn: materials are made ready once for a vector of coefficients, however many trials are
 * solved with it. A point must be read before the next is asked for, since its arrays are used again.
 *
 * @returns the point of a trial with given logarithms of the coefficients
 */
export function trialModel(
  coefficients: readonly Coefficient[],
): (trial: Trial, logarithms: readonly number[]) => Point {
  const kept: Kept = {};
  const ofMaterial = coefficients.map(({ path }) => /^(material|components|feed)\./.test(path));
  const values = (logarithms: readonly number[], material: boolean) =>
    logarithms.filter((_, i) => ofMaterial[i] === material);
  const materials = coefficients.filter((_, i) => ofMaterial[i]);
  const machines = coefficients.filter((_, i) => !ofMaterial[i]);
  let last: { from: Scenario['components']; key: string; made: Scenario['components'] } | undefined;
  const componentsOf = (scenario: Scenario, logarithms: readonly number[]): Scenario['components'] => {
    const own = values(logarithms, true);
    const key = own.join();
    if (last?.from !== scenario.components || last.key !== key) {
      const made = withCoefficients(scenario, materials, own).components;
      last = { from: scenario.components, key, made };
    }
    return last.made;
  };
  return (trial, logarithms) => {
    const { scenario } = trial;
    const { wheel } = scenario.settings;
    const own = values(logarithms, false);
    const acts = machines.map((one) => one.wheel === undefined || one.wheel === wheel);
    const machine = withCoefficients(
      scenario,
      machines.filter((_, i) => acts[i]),
      own.filter((_, i) => acts[i]),
    );
    const components = componentsOf(scenario, logarithms);
    return solvePoint(toCase({ ...machine, components }), { choke: false, kept });
  };
}
