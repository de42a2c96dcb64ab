import type { Scenario, Speed } from '../scenario.ts';
import { isProblem } from '../units/unit-problem.ts';
import { proposeSpeed, type Surroundings } from './default-wheel-speed.ts';
import { suggestion } from './did-you-mean.ts';
import { FEED_RATE } from './feed-rate.ts';
import { meantValue } from './likely-slip.ts';
import { checkFeedPerPower } from './machine-fits.ts';
import { childOf, type Node } from './node.ts';
import { readNumber } from './number.ts';
import { asBlock, type Context, checkKeys, fault, join, question, readText } from './reading-context.ts';
import { parseSpeed } from './speed.ts';
import { speedQuestion, speedSlip } from './speed-question.ts';
import { enterSpeed, speedFault } from './speed-setting.ts';

type Machine = Scenario['machine'];

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
  checkFeedPerPower(context, childOf(block, 'feedRate'), feedRate, around.machine.rotor.motor.power);
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
  const diameter =
    shaft === 'rotor' ? machine.rotor.geometry.diameter : machine.wheels[wheel]?.geometry.diameter;
  const drive = machine.drives[shaft];
  const slip = diameter && speedSlip(text, typed.speed, diameter, shaft, drive);
  if (wrong) fault(context, node, path, wrong + meantValue(slip || undefined));
  else if (diameter !== undefined)
    question(context, node, path, speedQuestion(text, typed.speed, diameter, shaft, drive));
  const evidence = node.origin.kind === 'option' ? '--set' : 'scenario file';
  enterSpeed(context, name, typed.speed, typed.shownIn, { label: 'given', source: evidence });
  return typed.speed;
}
