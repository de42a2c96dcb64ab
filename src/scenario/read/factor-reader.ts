import { ELEMENT_KINDS } from '../../model/parameters/rotor-parameters.ts';
import type { Parameter } from '../../model/parameters.ts';
import { pathInFile } from '../path.ts';
import type { Scenario } from '../scenario.ts';
import { isShownUnit } from '../units/display.ts';
import { parseValue } from '../units/parse-quantity.ts';
import { isProblem, type Problem } from '../units/unit-problem.ts';
import { suggestion } from './did-you-mean.ts';
import { FEED_RATE } from './feed-rate.ts';
import { EFFICIENCY_LAWS } from './laws.ts';
import { likelySlip, meantValue } from './likely-slip.ts';
import { outOfRange } from './out-of-range.ts';
import type { Context } from './reading-context.ts';
import { parseSpeed } from './speed.ts';
import { speedFault } from './speed-setting.ts';

/** What a factor may depend on. */
export type Around = Pick<Scenario, 'machine' | 'settings'>;

/** One value of a factor: SI, the way a speed is meant, the unit as typed. */
export interface FactorEnd {
  readonly value: number;
  readonly as?: 'shaft' | 'rim';
  readonly shownIn: string;
}

/** How the texts of one factor are read. */
export interface FactorReader {
  /** Path as the point evaluation understands it. */
  readonly path: string;
  readonly integer: boolean;
  readonly names?: readonly string[];
  readonly end: (text: string) => FactorEnd | Problem;
}

/** How a factor of this name is read; or why there is none. */
export function factorReader(
  context: Context,
  key: string,
  around: Around,
  wheels: readonly string[],
): FactorReader | string {
  const path = key.replace(/^settings\./, '');
  const { machine, settings } = around;
  if (path === 'wheel')
    return { path, integer: false, names: Object.keys(machine.wheels), end: () => ({ problem: '' }) };
  if (path === 'rotorSpeed' || path === 'wheelSpeed') {
    return { path, integer: false, end: (text) => speedEnd(context, text, path, machine, wheels) };
  }
  if (path === 'feedRate') return numberReader(path, FEED_RATE);
  if (path === 'airFlow') return numberReader('air.flow', context.parameters.get('air.flow')!);
  if (path === 'machine.rotor.geometry.element')
    return { path, integer: false, names: ELEMENT_KINDS, end: () => ({ problem: '' }) };
  if (/^(wheel|machine\.wheels\.[^.]+)\.efficiency(\.law)?$/.test(path)) {
    const names = Object.values(EFFICIENCY_LAWS).flatMap((law) =>
      law.table || law.parameters.length > 0 ? [] : [law.name],
    );
    return { path: path.replace(/(\.law)?$/, '.law'), integer: false, names, end: () => ({ problem: '' }) };
  }
  if (path === 'air.altitude') return 'must not be a factor; use air.pressure';
  if (/^components\.\d+\.share$/.test(path))
    return 'must not be a factor: component shares must add up to 100 %';
  return numberFactor(context, path, settings.wheel);
}

function numberFactor(context: Context, path: string, wheel: string): FactorReader | string {
  const inFile = path.includes('.') ? pathInFile(path, wheel) : path;
  const parameter = context.parameters.get(inFile);
  if (parameter && /^(material|feed|components|machine|air|plant)\./.test(inFile)) {
    return numberReader(/^material\.evaporation$/.test(path) ? 'machine.evaporation' : path, parameter);
  }
  const known = [...context.parameters.keys()].filter((name) =>
    /^(material|feed|machine|air|plant)\./.test(name),
  );
  const names = [
    'rotorSpeed',
    'wheelSpeed',
    'wheel',
    'feedRate',
    'airFlow',
    ...(path.includes('.') ? known : []),
  ];
  return `is neither a setting nor the path of a number in this file${suggestion(inFile, names)}`;
}

function numberReader(path: string, parameter: Parameter): FactorReader {
  const end = (text: string): FactorEnd | Problem => {
    const value = parseValue(text, parameter);
    if (isProblem(value)) return value;
    const wrong = outOfRange(value.value, parameter, value.shownIn);
    if (wrong)
      return { problem: wrong + meantValue(likelySlip(text, value.value, value.shownIn, parameter)) };
    return { value: value.value, shownIn: isShownUnit(value.shownIn) ? value.shownIn : parameter.shownIn };
  };
  return { path, integer: parameter.integer ?? false, end };
}

function speedEnd(
  context: Context,
  text: string,
  name: 'rotorSpeed' | 'wheelSpeed',
  machine: Scenario['machine'],
  wheels: readonly string[],
): FactorEnd | Problem {
  const shaft = name === 'rotorSpeed' ? 'rotor' : 'wheel';
  const typed = parseSpeed(text, machine.drives[shaft], shaft);
  if (isProblem(typed)) return typed;
  const wrong = wheels.map((wheel) => speedFault(typed.speed, name, machine, [wheel]));
  const [first] = wrong.filter((fault) => fault !== undefined);
  if (first !== undefined && wrong.every((fault) => fault !== undefined)) return { problem: first };
  if (first !== undefined) {
    context.warnings.push({
      code: 'overspeed',
      message: `sweep: ${name} ${text} ${first}; do not run such points`,
    });
  }
  return { ...typed.speed, shownIn: typed.shownIn };
}
