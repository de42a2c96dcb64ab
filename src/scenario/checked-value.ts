import { CIRCUITS } from '../model/parameters/loop.ts';
import { InputError } from './errors.ts';
import { parseGoal } from './expression/parse-expression.ts';
import { type FactorValue, withValue } from './operating-point.ts';
import { QUANTITIES } from './outcome/quantities.ts';
import type { Point } from './outcome/solved.ts';
import { expressionValue } from './outcome/spec.ts';
import { pathInFile } from './path.ts';
import { factorReader } from './read/factor-reader.ts';
import { outOfRange } from './read/out-of-range.ts';
import { parametersOf } from './read/parameters-of.ts';
import { emptyContext } from './read/reading-context.ts';
import { speedFault } from './read/speed-setting.ts';
import type { Scenario, Speed } from './scenario.ts';
import { isProblem } from './units/unit-problem.ts';

/** Paths of names that are no factor of a sweep, and what may stand there. */
const CHOICES: Readonly<Record<string, readonly string[]>> = { 'machine.circuit': CIRCUITS };

/**
 * A scenario with one value changed, held to the same rules as a value in the file or after `--set`.
 *
 * @param path a setting (`wheelSpeed`), the chosen wheel's own (`wheel.geometry.height`), or any path of a number in the file
 * @param value with its unit as text (`'2400 rpm'`), a name (of a wheel), or a number in SI
 * @param as how a speed given as a number is meant: `shaft` [1/s] or `rim` [m/s]
 * @returns a new scenario; what is not on the path is shared with the old one
 * @throws InputError where there is no such path, or the value is of the wrong kind, without its unit or out of its range
 * @example withCheckedValue(scenario, 'wheelSpeed', '2400 rpm')
 */
export function withCheckedValue(
  scenario: Scenario,
  path: string,
  value: FactorValue,
  as?: Speed['as'],
): Scenario {
  const refuse = (message: string): InputError => new InputError([{ place: path, message }]);
  const choices = CHOICES[path];
  if (choices) {
    if (choices.includes(String(value))) return withValue(scenario, path, value);
    throw refuse(`must be one of ${choices.join(', ')}, is ${value}`);
  }
  const context = {
    ...emptyContext({ readFile: noFiles, readBytes: noFiles }),
    parameters: parametersOf(scenario),
  };
  const reader = factorReader(context, path, scenario, [scenario.settings.wheel]);
  if (typeof reader === 'string') throw refuse(reader);
  if (reader.names) {
    if (typeof value === 'string' && reader.names.includes(value))
      return withValue(scenario, reader.path, value);
    throw refuse(`must be one of ${reader.names.join(', ')}, is ${value}`);
  }
  if (typeof value === 'string') {
    const end = reader.end(value);
    if (isProblem(end)) throw refuse(end.problem);
    return withValue(scenario, reader.path, end.value, end.as);
  }
  const speed = reader.path === 'rotorSpeed' || reader.path === 'wheelSpeed' ? reader.path : undefined;
  if (speed !== undefined) {
    if (as === undefined)
      throw refuse("is a speed: write text with its unit, e.g. '2400 rpm', or add 'shaft' or 'rim'");
    const wrong = speedFault({ as, value }, speed, scenario.machine, [scenario.settings.wheel]);
    if (wrong || !Number.isFinite(value)) throw refuse(wrong ?? 'must be a finite number');
    return withValue(scenario, reader.path, value, as);
  }
  const inFile =
    reader.path === 'feedRate' ? 'settings.feedRate' : pathInFile(reader.path, scenario.settings.wheel);
  const parameter = context.parameters.get(inFile)!;
  const wrong = outOfRange(value, parameter, parameter.shownIn);
  if (wrong) throw refuse(wrong);
  return withValue(scenario, reader.path, value);
}

function noFiles(path: string): never {
  throw new Error(`no file ${path} is read here`);
}

/**
 * A result of a solved point by its name, or an expression of several, as a spec has them.
 *
 * @param text e.g. `x95`, `passing(75 um)`, `x90/x10`
 * @returns the value, SI
 * @throws InputError where there is no such quantity, or the mill chokes and there is no product
 * @example resultOf(solvePoint(toCase(scenario)), 'passing(75 um)')
 */
export function resultOf(point: Point, text: string): number {
  const goal = parseGoal(`maximise ${text}`, QUANTITIES);
  if (isProblem(goal)) throw new InputError([{ place: text, message: goal.problem }]);
  if (point.status === 'steady') return expressionValue(goal.expression, point);
  const { reason, message } = point.state;
  throw new InputError([
    { place: text, message: `the mill chokes at these settings (${reason}): ${message}` },
  ]);
}
