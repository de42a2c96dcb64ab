import type { Circuit, Rotor } from '../../model/case.ts';
import { CIRCUITS, LOOP } from '../../model/parameters/loop.ts';
import {
  ELEMENT_KINDS,
  MOTOR,
  ROTOR_COEFFICIENTS,
  ROTOR_GEOMETRY,
  ROTOR_MAX_SPEED,
} from '../../model/parameters/rotor-parameters.ts';
import type { Drive, Scenario } from '../scenario.ts';
import { formatNumber, formatQuantity } from '../units/display.ts';
import { isProblem } from '../units/unit-problem.ts';
import { namesOf, readNumbers } from './block.ts';
import { checkRotor, checkWheels } from './machine-fits.ts';
import { type Block, blockOf, childOf, type Node, textOf } from './node.ts';
import { readNumber } from './number.ts';
import { readRanges } from './ranges.ts';
import { NAME_RULE, oddLetters, PLAIN_NAME, readWheels } from './read-wheel.ts';
import {
  asBlock,
  type Context,
  checkKeys,
  fault,
  join,
  missing,
  question,
  readChoice,
  readText,
} from './reading-context.ts';
import { enter, evidenceOf } from './record-evidence.ts';
import { parseDrive, parseTopSpeed } from './speed.ts';

/** Shaft turns for each period of the drive found in practice: motor poles and belt (from memory). */
const LEAST_TURNS = 0.1;
const MOST_TURNS = 5;

const KEYS = [
  'name',
  'description',
  'rotor',
  'rotors',
  'wheels',
  'drives',
  'circuit',
  'ranges',
  ...namesOf(LOOP),
];

/** `machine:` — rotor, wheels, drives and the loop. */
export function readMachine(
  context: Context,
  node: Node | undefined,
  evaporation: number,
): Scenario['machine'] | undefined {
  if (!node)
    missing(
      context,
      node,
      'machine',
      'must be given: a machine of the catalogue, e.g. pilot-300, or a block',
    );
  const block = asBlock(context, node, 'machine');
  if (!block) return undefined;
  checkKeys(context, block, 'machine', KEYS);
  readText(context, childOf(block, 'description'), 'machine.description');
  const name = readText(context, childOf(block, 'name'), 'machine.name', 200) ?? 'unnamed';
  const drives = readDrives(context, childOf(block, 'drives'));
  const rotor = readRotor(context, childOf(block, 'rotor'), drives.rotor);
  const rotors = readRotors(context, childOf(block, 'rotors'), drives.rotor);
  const wheels = readWheels(context, childOf(block, 'wheels'), drives.wheel);
  checkWheels(context, childOf(block, 'wheels'), wheels, rotor);
  return {
    name,
    rotor,
    ...(rotors ? { rotors } : {}),
    wheels,
    drives,
    circuit:
      readChoice(context, childOf(block, 'circuit'), 'machine.circuit', CIRCUITS) ??
      ('internal' satisfies Circuit),
    ...readLoop(context, block),
    evaporation,
    ...readRanges(context, childOf(block, 'ranges'), drives),
  };
}

type LoopNumbers = Pick<
  Scenario['machine'],
  'stages' | 'loopTime' | 'chokeLoad' | 'casingLoss' | 'classesPerOctave' | 'smallestSize'
>;

function readLoop(context: Context, block: Block): LoopNumbers {
  if (textOf(block, 'stages') !== 'plug')
    return readNumbers<keyof LoopNumbers>(context, block, 'machine', LOOP);
  const rest = LOOP.filter((parameter) => parameter.name !== 'stages');
  return {
    ...readNumbers<keyof LoopNumbers>(context, block, 'machine', rest),
    stages: Number.POSITIVE_INFINITY,
  };
}

const MOST_ROTORS = 50;

/** `machine.rotors:` — others to compare with the machine's own, by their names. */
function readRotors(
  context: Context,
  node: Node | undefined,
  drive: Drive | undefined,
): Readonly<Record<string, Rotor>> | undefined {
  const path = 'machine.rotors';
  const block = asBlock(context, node, path);
  if (!block) return undefined;
  if (block.entries.size === 0 || block.entries.size > MOST_ROTORS)
    fault(context, node, path, `must name 1 to ${MOST_ROTORS} rotors`);
  const rotors: Record<string, Rotor> = {};
  for (const [name, child] of [...block.entries].slice(0, MOST_ROTORS)) {
    if (PLAIN_NAME.test(name)) rotors[name] = readRotor(context, child, drive, join(path, name));
    else fault(context, child, `${path}.${name.slice(0, 60)}`, `must have ${NAME_RULE}${oddLetters(name)}`);
  }
  return rotors;
}

function readRotor(
  context: Context,
  node: Node | undefined,
  drive: Drive | undefined,
  path = 'machine.rotor',
): Rotor {
  if (!node) missing(context, node, path, 'must be given: geometry, motor and maxSpeed');
  const block = asBlock(context, node, path);
  checkKeys(context, block, path, ['geometry', 'coefficients', 'motor', 'maxSpeed']);
  const part = (key: string, names: readonly string[]) => {
    const child = asBlock(context, childOf(block, key), join(path, key));
    checkKeys(context, child, join(path, key), names);
    return child ?? (block && blockOf([], block));
  };
  const geometry = part('geometry', ['element', ...namesOf(ROTOR_GEOMETRY)]);
  const coefficients = part('coefficients', namesOf(ROTOR_COEFFICIENTS));
  const motor = part('motor', namesOf(MOTOR));
  const element = readChoice(
    context,
    childOf(geometry, 'element'),
    `${path}.geometry.element`,
    ELEMENT_KINDS,
  );
  if (geometry && !childOf(geometry, 'element')) {
    missing(
      context,
      geometry,
      `${path}.geometry.element`,
      `must be given: one of ${ELEMENT_KINDS.join(', ')}`,
    );
  }
  const dimensions = readNumbers<'diameter' | 'count' | 'height' | 'width' | 'gap'>(
    context,
    geometry,
    `${path}.geometry`,
    ROTOR_GEOMETRY,
  );
  const parse = parseTopSpeed(drive, dimensions.diameter, 'rotor');
  const rotor: Rotor = {
    geometry: { element: element ?? 'bar', ...dimensions },
    coefficients: readNumbers<keyof Rotor['coefficients']>(
      context,
      coefficients,
      `${path}.coefficients`,
      ROTOR_COEFFICIENTS,
    ),
    motor: readNumbers<'power' | 'baseSpeed'>(context, motor, `${path}.motor`, MOTOR),
    maxSpeed:
      readNumber(context, childOf(block, 'maxSpeed'), `${path}.maxSpeed`, ROTOR_MAX_SPEED, { parse }) ??
      Number.NaN,
  };
  checkRotor(context, block, path, rotor);
  return rotor;
}

function readDrives(
  context: Context,
  node: Node | undefined,
): { readonly rotor?: Drive; readonly wheel?: Drive } {
  const path = 'machine.drives';
  const block = asBlock(context, node, path);
  checkKeys(context, block, path, ['rotor', 'wheel']);
  const one = (key: 'rotor' | 'wheel'): Drive | undefined => {
    const child = childOf(block, key);
    const text = readText(context, child, join(path, key), 100);
    const drive = text === undefined ? undefined : parseDrive(text);
    if (isProblem(drive)) fault(context, child, join(path, key), drive.problem);
    if (!child || !drive || isProblem(drive)) return undefined;
    const ratio = drive.shaftSpeed / drive.frequency;
    if (ratio < LEAST_TURNS || ratio > MOST_TURNS)
      question(
        context,
        child,
        join(path, key),
        `is ${formatNumber(ratio, 3)} shaft turns for each period of the drive; usual are ${LEAST_TURNS} to ${MOST_TURNS}`,
      );
    const meaning = `${key} speed at ${formatQuantity(drive.frequency, 'Hz')} of its drive`;
    const parameter = { name: key, symbol: '', unit: '1/s', shownIn: 'rpm', meaning };
    enter(
      context,
      join(path, key),
      parameter,
      { value: drive.shaftSpeed, shownIn: 'rpm' },
      evidenceOf(child),
    );
    return drive;
  };
  const rotor = one('rotor');
  const wheel = one('wheel');
  return { ...(rotor ? { rotor } : {}), ...(wheel ? { wheel } : {}) };
}
