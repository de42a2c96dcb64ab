import { ELEMENT_KINDS } from '../../model/parameters/rotor.ts';
import type { Parameter } from '../../model/parameters.ts';
import type { Factor, Scenario } from '../scenario.ts';
import { isShownUnit } from '../units/display.ts';
import { parseValue } from '../units/parse.ts';
import { isProblem, type Problem } from '../units/problem.ts';
import { asBlock, type Context, checkKeys, fault, join, readChoice, readText } from './context.ts';
import { EFFICIENCY_LAWS } from './laws.ts';
import { suggestion } from './nearest.ts';
import { childOf, type Node } from './node.ts';
import { outOfRange, readNumber } from './number.ts';
import { FEED_RATE, speedFault } from './settings.ts';
import { parseSpeed } from './speed.ts';

type Around = Pick<Scenario, 'machine' | 'settings'>;

const MOST_LEVELS = 100_000;
const STEPS: Parameter = {
  name: 'steps',
  symbol: 'n',
  unit: '1',
  shownIn: '1',
  meaning: 'number of values',
  minimum: 1,
  maximum: MOST_LEVELS,
  integer: true,
  optional: true,
};

/** One value of a factor: SI, the way a speed is meant, the unit as typed. */
interface FactorEnd {
  readonly value: number;
  readonly as?: 'shaft' | 'rim';
  readonly shownIn: string;
}
/** How the texts of one factor are read. */
interface Reader {
  /** Path as the point evaluation understands it. */
  readonly path: string;
  readonly integer: boolean;
  readonly names?: readonly string[];
  readonly end: (text: string) => FactorEnd | Problem;
}

/**
 * One factor of a sweep: `{ from, to, steps, scale }`, a list of values, or one value.
 *
 * @param key name or dotted path as the file has it
 * @param wheels wheels the sweep uses
 */
export function readFactor(
  context: Context,
  node: Node,
  place: string,
  key: string,
  around: Around,
  wheels: readonly string[],
): Factor | undefined {
  const reader = readerOf(context, key, around, wheels);
  if (typeof reader === 'string') {
    fault(context, node, place, reader);
    return undefined;
  }
  if (node.kind === 'block') return readSpan(context, node, place, reader);
  const items = node.kind === 'list' ? node.items : [node];
  if (items.length === 0 || items.length > MOST_LEVELS) {
    fault(context, node, place, `must have 1 to ${MOST_LEVELS} values`);
    return undefined;
  }
  return readLevels(context, items, place, reader);
}

function readLevels(
  context: Context,
  items: readonly Node[],
  place: string,
  reader: Reader,
): Factor | undefined {
  const names = reader.names;
  if (names) {
    const levels = items.flatMap((item, i) => readChoice(context, item, `${place}[${i}]`, names) ?? []);
    return levels.length === items.length
      ? { kind: 'levels', path: reader.path, levels, shownIn: '1' }
      : undefined;
  }
  const ends = items.flatMap((item, i) => readEnd(context, item, `${place}[${i}]`, reader) ?? []);
  if (ends.length < items.length) return undefined;
  const { as, shownIn } = ends[0]!;
  if (ends.some((end) => end.as !== as)) {
    fault(context, items[0], place, 'must have all its values in the same kind of unit');
    return undefined;
  }
  return {
    kind: 'levels',
    path: reader.path,
    levels: ends.map(({ value }) => value),
    shownIn,
    ...(as ? { as } : {}),
  };
}

function readSpan(context: Context, node: Node, place: string, reader: Reader): Factor | undefined {
  const block = asBlock(context, node, place);
  checkKeys(context, block, place, ['from', 'to', 'steps', 'scale']);
  if (reader.names) {
    fault(context, node, place, `must be a list of names: ${reader.names.join(', ')}`);
    return undefined;
  }
  const [from, to] = (['from', 'to'] as const).map((name) => {
    const child = childOf(block, name);
    if (!child) fault(context, node, join(place, name), 'must be given');
    return child && readEnd(context, child, join(place, name), reader);
  });
  const steps = readNumber(
    { ...context, provenance: {} },
    childOf(block, 'steps'),
    join(place, 'steps'),
    STEPS,
  );
  const scale =
    readChoice(context, childOf(block, 'scale'), join(place, 'scale'), ['linear', 'log']) ?? 'linear';
  if (!from || !to) return undefined;
  if (from.as !== to.as) fault(context, node, place, 'must have both ends in the same kind of unit');
  if (!(from.value < to.value)) fault(context, node, place, 'must run from low to high');
  if (scale === 'log' && !(from.value > 0)) fault(context, node, place, 'must start above 0 on a log scale');
  return {
    kind: 'number',
    path: reader.path,
    from: from.value,
    to: to.value,
    ...(steps === undefined ? {} : { steps }),
    scale,
    integer: reader.integer,
    ...(from.as ? { as: from.as } : {}),
    shownIn: from.shownIn,
  };
}

function readEnd(context: Context, node: Node, place: string, reader: Reader): FactorEnd | undefined {
  const text = readText(context, node, place, 200);
  if (text === undefined) return undefined;
  const end = reader.end(text);
  if (!isProblem(end)) return end;
  fault(context, node, place, end.problem);
  return undefined;
}

/** How a factor of this name is read; or why there is none. */
function readerOf(context: Context, key: string, around: Around, wheels: readonly string[]): Reader | string {
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
  if (path === 'air.altitude') return 'must not be a factor; take air.pressure';
  if (/^components\.\d+\.share$/.test(path))
    return 'must not be a factor: the shares have to add up to 100 %';
  return numberFactor(context, path, settings.wheel);
}

function numberFactor(context: Context, path: string, wheel: string): Reader | string {
  const inFile = path.replace(/^wheel\./, `machine.wheels.${wheel}.`);
  const parameter = context.parameters.get(inFile);
  if (parameter && /^(material|feed|components|machine|air)\./.test(inFile)) {
    return numberReader(/^material\.evaporation$/.test(path) ? 'machine.evaporation' : path, parameter);
  }
  const known = [...context.parameters.keys()].filter((name) => /^(material|feed|machine|air)\./.test(name));
  const names = [
    'rotorSpeed',
    'wheelSpeed',
    'wheel',
    'feedRate',
    'airFlow',
    ...(path.includes('.') ? known : []),
  ];
  return `must be a setting or the path of a number of the mill in this file${suggestion(inFile, names)}`;
}

function numberReader(path: string, parameter: Parameter): Reader {
  const end = (text: string): FactorEnd | Problem => {
    const value = parseValue(text, parameter);
    if (isProblem(value)) return value;
    const wrong = outOfRange(value.value, parameter, value.shownIn);
    if (wrong) return { problem: wrong };
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
      message: `sweep: ${name} ${text} ${first}; such points are not to be run`,
    });
  }
  return { ...typed.speed, shownIn: typed.shownIn };
}
