import type { Component } from '../../model/case.ts';
import type { Parameter } from '../../model/parameters.ts';
import type { Scenario, Speed } from '../scenario.ts';
import { formatQuantity } from '../units/display.ts';
import { isProblem } from '../units/problem.ts';
import { asBlock, type Context, checkKeys, fault, join, readText } from './context.ts';
import { enter } from './evidence.ts';
import { suggestion } from './nearest.ts';
import { childOf, type Node } from './node.ts';
import { readNumber } from './number.ts';
import { proposeSpeed } from './propose.ts';
import { parseSpeed } from './speed.ts';

type Machine = Scenario['machine'];

/** `settings.feedRate`. */
export const FEED_RATE: Parameter = {
  name: 'feedRate',
  symbol: 'F',
  unit: 'kg/s',
  shownIn: 'kg/h',
  meaning: 'feed rate',
  exclusiveMinimum: 0,
  maximum: 100,
};

/** What the proposal of speeds may look at. */
export interface Surroundings {
  readonly machine: Machine;
  readonly components: readonly Component[];
  readonly air: Scenario['air'];
  readonly spec: Scenario['spec'];
}

/** `settings:` — wheel, speeds and feed rate; what is left out is proposed, and named in `proposed`. */
export function readSettings(
  context: Context,
  node: Node | undefined,
  around: Surroundings,
): { readonly settings: Scenario['settings']; readonly proposed: readonly string[] } {
  const block = asBlock(context, node, 'settings');
  checkKeys(context, block, 'settings', ['rotorSpeed', 'wheel', 'wheelSpeed', 'feedRate']);
  const proposed: string[] = [];
  const wheel = readWheelName(context, childOf(block, 'wheel'), around.machine, proposed);
  const speed = (name: 'rotorSpeed' | 'wheelSpeed'): Speed => {
    const child = childOf(block, name);
    if (child) return readSpeed(context, child, name, around.machine, wheel);
    proposed.push(name);
    return proposeSpeed(context, name, wheel, around);
  };
  const feedRate =
    readNumber(context, childOf(block, 'feedRate'), 'settings.feedRate', FEED_RATE) ?? Number.NaN;
  return {
    settings: { rotorSpeed: speed('rotorSpeed'), wheel, wheelSpeed: speed('wheelSpeed'), feedRate },
    proposed,
  };
}

function readWheelName(
  context: Context,
  node: Node | undefined,
  machine: Machine,
  proposed: string[],
): string {
  const names = Object.keys(machine.wheels);
  if (!node) {
    if (names.length > 1) proposed.push('wheel');
    return names[0] ?? '';
  }
  const name = readText(context, node, 'settings.wheel', 100)?.trim();
  if (name === undefined || names.includes(name) || names.length === 0) return name ?? '';
  fault(
    context,
    node,
    'settings.wheel',
    `must be a wheel of the machine, is "${name}"${suggestion(name, names)}`,
  );
  return names[0]!;
}

function readSpeed(
  context: Context,
  node: Node,
  name: 'rotorSpeed' | 'wheelSpeed',
  machine: Machine,
  wheel: string,
): Speed {
  const path = join('settings', name);
  const shaft = name === 'rotorSpeed' ? 'rotor' : 'wheel';
  const failed: Speed = { as: 'shaft', value: Number.NaN };
  const text = readText(context, node, path, 100);
  if (text === undefined) return failed;
  const typed = parseSpeed(text, machine.drives[shaft], shaft);
  if (isProblem(typed)) {
    fault(context, node, path, typed.problem);
    return failed;
  }
  const wrong = speedFault(typed.speed, name, machine, [wheel]);
  if (wrong) fault(context, node, path, wrong);
  const evidence = node.origin.kind === 'option' ? '--set' : 'scenario file';
  enterSpeed(context, name, typed.speed, typed.shownIn, { label: 'given', source: evidence });
  return typed.speed;
}

/** Enters a speed in the table of evidence. */
export function enterSpeed(
  context: Context,
  name: 'rotorSpeed' | 'wheelSpeed',
  speed: Speed,
  shownIn: string,
  evidence: Parameters<typeof enter>[4],
): void {
  const rotor = name === 'rotorSpeed';
  const rim = rotor ? 'tip speed of the rotor' : 'rim speed of the wheel';
  const parameter: Parameter = {
    name,
    symbol: rotor ? 'N' : 'n_w',
    unit: speed.as === 'shaft' ? '1/s' : 'm/s',
    shownIn: speed.as === 'shaft' ? 'rpm' : 'm/s',
    meaning: speed.as === 'rim' ? rim : rotor ? 'rotor speed' : 'wheel speed',
  };
  enter(context, join('settings', name), parameter, { value: speed.value, shownIn }, evidence);
}

/**
 * Why a speed is not allowed: not above zero, or above the highest its maker allows for rotor or wheel.
 *
 * @param wheels the wheels it is meant for
 */
export function speedFault(
  speed: Speed,
  name: 'rotorSpeed' | 'wheelSpeed',
  machine: Machine,
  wheels: readonly string[],
): string | undefined {
  if (!(speed.value > 0)) return 'must be > 0';
  const tops =
    name === 'rotorSpeed'
      ? [{ part: 'rotor', diameter: machine.rotor.geometry.diameter, top: machine.rotor.maxSpeed }]
      : wheels.flatMap((wheel) => {
          const of = Object.hasOwn(machine.wheels, wheel) ? machine.wheels[wheel] : undefined;
          return of ? [{ part: `wheel ${wheel}`, diameter: of.geometry.diameter, top: of.maxSpeed }] : [];
        });
  for (const { part, diameter, top } of tops) {
    const turns = speed.as === 'shaft' ? speed.value : speed.value / (Math.PI * diameter);
    if (turns > top * (1 + 1e-9)) {
      return `must be at most ${formatQuantity(top, 'rpm')}, the highest speed of the ${part}; is ${formatQuantity(turns, 'rpm')}`;
    }
  }
  return undefined;
}
