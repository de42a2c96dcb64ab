import { FRAGMENT_LAWS } from '../../model/breakage/fragments/index.ts';
import { SELECTION_LAWS } from '../../model/breakage/selection/index.ts';
import { MATERIAL } from '../../model/parameters/material-parameters.ts';
import { ROTOR_COEFFICIENTS, ROTOR_GEOMETRY } from '../../model/parameters/rotor-parameters.ts';
import { WHEEL_COEFFICIENTS, WHEEL_GEOMETRY } from '../../model/parameters/wheel-parameters.ts';
import type { Parameter } from '../../model/parameters.ts';
import { EFFICIENCY_LAWS } from '../../model/wheel/efficiency/index.ts';
import { valueAt } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';

/** The record of the number at a path of a scenario; undefined where it is none of mill, wheel or material. */
export function parameterAt(scenario: Scenario, path: string): Parameter | undefined {
  const keys = path.split('.');
  const name = keys[keys.length - 1]!;
  const block = keys.slice(0, -1).join('.');
  return recordsOf(scenario, block).find((one) => one.name === name);
}

function recordsOf(scenario: Scenario, block: string): readonly Parameter[] {
  const law = valueAt(scenario, `${block}.law`);
  const laws = /\.selection$/.test(block)
    ? SELECTION_LAWS
    : /\.fragments$/.test(block)
      ? FRAGMENT_LAWS
      : /\.efficiency$/.test(block)
        ? EFFICIENCY_LAWS
        : undefined;
  if (laws) return typeof law === 'string' ? (laws[law]?.parameters ?? []) : [];
  if (/^machine\.rotors?(\.|$).*coefficients$/.test(block)) return ROTOR_COEFFICIENTS;
  if (/^machine\.rotors?(\.|$).*geometry$/.test(block)) return ROTOR_GEOMETRY;
  if (/^machine\.wheels\..*coefficients$/.test(block)) return WHEEL_COEFFICIENTS;
  if (/^machine\.wheels\..*geometry$/.test(block)) return WHEEL_GEOMETRY;
  return /(^|\.)material$/.test(block) ? MATERIAL : [];
}
