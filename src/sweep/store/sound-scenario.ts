import { FLOW_STATES } from '../../model/parameters/air-parameters.ts';
import { CIRCUITS } from '../../model/parameters/loop.ts';
import { ELEMENT_KINDS } from '../../model/parameters/rotor-parameters.ts';
import type { LawChoice } from '../../model/parameters.ts';
import { type Expression, namesIn } from '../../scenario/expression/expression.ts';
import { valueAt } from '../../scenario/operating-point.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import { isLogo } from '../../scenario/read/logo.ts';
import { outOfRange } from '../../scenario/read/out-of-range.ts';
import { parametersOf } from '../../scenario/read/parameters-of.ts';
import type { Scenario, Speed } from '../../scenario/scenario.ts';
import { isShownUnit } from '../../scenario/units/display.ts';

/**
 * Whether stored data is a scenario such as reading a file gives: texts where texts belong, every number within what its
 * parameter allows, every name one that exists.
 *
 * @throws TypeError or RangeError where parts are missing altogether
 */
export function isSoundScenario(scenario: Scenario): boolean {
  return hasTexts(scenario) && hasNumbers(scenario) && hasNames(scenario) && hasExpressions(scenario);
}

function isText(value: unknown): value is string {
  return typeof value === 'string';
}

function hasTexts({
  title,
  text,
  job,
  logo,
  warnings,
  provenance,
  proposed,
  machine,
  components,
}: Scenario): boolean {
  return (
    [title, text, machine.name, ...components.map(({ material }) => material.name), ...proposed].every(
      isText,
    ) &&
    isRecord(job) &&
    Object.values(job).every(isText) &&
    (logo === undefined || isLogo(logo)) &&
    warnings.every(({ code, message }) => isText(code) && isText(message)) &&
    Object.values(provenance).every(isEvidence)
  );
}

function isRecord(value: unknown): boolean {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isEvidence(entry: Scenario['provenance'][string]): boolean {
  const { value, unit, meaning, symbol, label, source } = entry;
  return typeof value === 'number' && [unit, meaning, symbol, label].every(isText) && isText(source ?? '');
}

function hasNumbers(scenario: Scenario): boolean {
  const { settings, uncertain, components, machine } = scenario;
  const within = [...parametersOf(scenario)].every(([path, parameter]) => {
    const value = valueAt(scenario, path);
    if (value === undefined) return parameter.optional || parameter.preset !== undefined || isOfBlock(path);
    if (path === 'machine.stages' && value === Number.POSITIVE_INFINITY) return true;
    return typeof value === 'number' && outOfRange(value, parameter, parameter.shownIn) === undefined;
  });
  const laws = [
    ...components.flatMap(({ material, feed }) => [feed, material.selection, material.fragments]),
    ...Object.values(machine.wheels).map(({ efficiency }) => efficiency),
  ];
  return (
    within &&
    laws.every(hasTable) &&
    Object.values(uncertain).every((ends) => ends.length === 2 && ends.every(Number.isFinite)) &&
    [settings.rotorSpeed, settings.wheelSpeed].every(isSpeed)
  );
}

function hasTable({ points = [] }: LawChoice): boolean {
  const rows = points as readonly (readonly number[])[];
  return rows.every((row) => row.length === 2 && row.every(Number.isFinite));
}

function isSpeed({ as, value }: Speed): boolean {
  return (as === 'shaft' || as === 'rim') && Number.isFinite(value) && value > 0;
}

function hasNames({ machine, air, settings }: Scenario): boolean {
  const rotors = [machine.rotor, ...Object.values(machine.rotors ?? {})];
  return (
    Object.hasOwn(machine.wheels, settings.wheel) &&
    rotors.every(({ geometry }) => ELEMENT_KINDS.includes(geometry.element)) &&
    CIRCUITS.includes(machine.circuit) &&
    FLOW_STATES.includes(air.flowState) &&
    Object.values(machine.drives).every((drive) => drive.frequency > 0 && drive.shaftSpeed > 0)
  );
}

function hasExpressions({ spec, goal, grades = {} }: Scenario): boolean {
  return [{ spec, goal }, ...Object.values(grades)].every(isSoundSpec);
}

function isSoundSpec({
  spec,
  goal,
}: {
  readonly spec: Scenario['spec'];
  readonly goal?: Scenario['goal'] | undefined;
}): boolean {
  return (
    spec.every(
      ({ text, shownIn, left, right }) =>
        isText(text) && isShownUnit(shownIn) && isKnown(left) && isKnown(right),
    ) &&
    (goal === undefined || (isText(goal.text) && isKnown(goal.expression)))
  );
}

function isKnown(expression: Expression): boolean {
  return namesIn(expression).every((name) => quantityNamed(name) !== undefined);
}

/** Parts of the optional blocks may be left out whole. */
function isOfBlock(path: string): boolean {
  return /^(plant|time)\./.test(path);
}
