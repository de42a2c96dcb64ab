import { toCase, withValue } from '../scenario/operating-point.ts';
import { solvePoint } from '../scenario/outcome/solved.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { toShown } from '../scenario/units/display.ts';
import { atSpeed, type Target, targetValue } from '../search/compare/match.ts';
import { rotorNames, withRotor } from '../search/compare/rotors.ts';
import type { RidgeInput, RidgeLine } from './capacity-ridge.ts';
import { targetMeasure, targetUnit } from './compare/target-words.ts';
import { endWords } from './limit-words.ts';
import { feedLimit } from './reach.ts';
import { label } from './text.ts';
import { requirementTopic } from './words.ts';

const SPEEDS = 22;
const LOWEST = 0.1;
/** Fineness shown about the target: from a quarter to three times. */
const SHOWN = [0.25, 3] as const;

/** Each wheel's highest feed within the limits that are not about size, against the fineness it has there. */
export function capacityInput(scenario: Scenario, target: Target): RidgeInput {
  const free = withoutFineness(scenario);
  const lines = Object.keys(scenario.machine.wheels).map((name) => ({
    name: label(name),
    ...lineOf(free, name, target),
  }));
  return { x: targetMeasure(target), lines };
}

/** The same of each rotor, behind the chosen wheel at every speed. */
export function rotorCapacityInput(scenario: Scenario, target: Target): RidgeInput {
  const free = withoutFineness(scenario);
  const lines = rotorNames(scenario).map((name) => ({
    name: label(name),
    ...lineOf(withRotor(free, name), scenario.settings.wheel, target),
  }));
  return { x: targetMeasure(target), lines, of: 'rotor' };
}

function withoutFineness(scenario: Scenario): Scenario {
  return { ...scenario, spec: scenario.spec.filter((line) => requirementTopic(line) !== 'fineness') };
}

function lineOf(scenario: Scenario, wheel: string, target: Target): Omit<RidgeLine, 'name'> {
  const unit = targetUnit(target);
  const shown = toShown(target.value, unit);
  const top = scenario.machine.wheels[wheel]!.maxSpeed;
  const found: { x: number; feed: number; words: string }[] = [];
  for (let k = 0; k < SPEEDS; k++) {
    const speed = top * LOWEST ** (1 - k / (SPEEDS - 1));
    const at = atSpeed(scenario, wheel, speed);
    const choke = solvePoint(toCase(at)).state.feedAtChoke;
    const limit = feedLimit(at, choke * 1.02);
    if (!limit) continue;
    const point = solvePoint(toCase(withValue(at, 'feedRate', limit.value)), { choke: false });
    if (point.status === 'choked') continue;
    const x = toShown(targetValue(target, point), unit);
    if (x < SHOWN[0] * shown || x > SHOWN[1] * shown) continue;
    found.push({
      x,
      feed: toShown(limit.value, 'kg/h'),
      words: limit.by < 0 ? 'choking' : endWords(scenario, limit),
    });
  }
  found.sort((a, b) => a.x - b.x);
  return {
    x: found.map(({ x }) => x),
    feed: found.map(({ feed }) => feed),
    binding: found.map(({ words }) => words),
  };
}
