import type { Parameter } from '../../model/parameters.ts';
import { shaftSpeed } from '../operating-point.ts';
import type { Drive, Speed } from '../scenario.ts';
import { parseValue, splitNumber, type Value, type Wanted } from '../units/parse-quantity.ts';
import { isProblem, type Problem, problem } from '../units/unit-problem.ts';

const SHAFT: Wanted = { unit: '1/s', shownIn: 'rpm' };
const FREQUENCY: Wanted = { unit: '1/s', shownIn: 'Hz' };
const RIM: Wanted = { unit: 'm/s', shownIn: 'm/s' };

/** A speed as typed and the unit it is shown in. */
interface TypedSpeed {
  readonly speed: Speed;
  readonly shownIn: string;
}

/**
 * Reads a speed: rpm of the shaft, m/s of tip or rim, and Hz or % of the drive where the scenario says what its drive does.
 *
 * @param drive the drive of this shaft
 * @param shaft `rotor` or `wheel`, for messages
 */
export function parseSpeed(text: string, drive: Drive | undefined, shaft: string): TypedSpeed | Problem {
  const split = splitNumber(text, SHAFT);
  if (isProblem(split)) return split;
  const byDrive = split.unit === '%' || /Hz$/.test(split.unit);
  if (byDrive && !drive) {
    const found = split.unit === '%' ? 'a share of its drive' : 'a drive frequency, not a shaft speed';
    return problem(
      `is ${found}; write rpm or m/s, or say what the drive does: machine.drives: { ${shaft}: 50 Hz = 3000 rpm }`,
    );
  }
  if (split.unit === '%') return onShaft((split.number / 100) * drive!.shaftSpeed);
  if (byDrive) {
    const frequency = parseValue(text, FREQUENCY);
    if (isProblem(frequency)) return frequency;
    return onShaft((frequency.value / drive!.frequency) * drive!.shaftSpeed);
  }
  const rim = parseValue(text, RIM);
  if (!isProblem(rim)) return { speed: { as: 'rim', value: rim.value }, shownIn: rim.shownIn };
  const turns = parseValue(text, SHAFT);
  if (!isProblem(turns)) return { speed: { as: 'shaft', value: turns.value }, shownIn: turns.shownIn };
  const edge = shaft === 'rotor' ? 'rotor tip' : 'wheel rim';
  if (split.unit === '') {
    const number = text.trim();
    return problem(`has no unit; write ${number} m/s (${edge}) or ${number} rpm (shaft)`);
  }
  return problem(
    `must be a speed, but ${split.unit} is not a unit of that kind; write m/s (${edge}) or rpm (shaft)`,
  );
}

/** A speed by drive is shown in rpm, which needs no drive to be understood. */
function onShaft(value: number): TypedSpeed {
  return { speed: { as: 'shaft', value }, shownIn: 'rpm' };
}

/**
 * Reads `50 Hz = 3000 rpm`, in either order.
 *
 * @returns drive frequency and the shaft speed that goes with it [1/s]
 */
export function parseDrive(text: string): Drive | Problem {
  const sides = text.split('=');
  const wanted = 'must say which shaft speed goes with which drive frequency, e.g. 50 Hz = 3000 rpm';
  if (sides.length !== 2) return problem(wanted);
  const [first, second] = /Hz/.test(sides[0]!) ? [sides[0]!, sides[1]!] : [sides[1]!, sides[0]!];
  if (!/Hz\s*$/.test(first) || /Hz/.test(second)) return problem(wanted);
  const frequency = parseValue(first, FREQUENCY);
  if (isProblem(frequency)) return frequency;
  const shaft = parseValue(second, SHAFT);
  if (isProblem(shaft)) return shaft;
  if (!(frequency.value > 0 && shaft.value > 0)) return problem('must have both sides > 0');
  return { frequency: frequency.value, shaftSpeed: shaft.value };
}

/** Reads a highest speed: rpm, or m/s at the rim of `diameter` [m]. */
export function parseTopSpeed(
  drive: Drive | undefined,
  diameter: number,
  shaft: string,
): (text: string, parameter: Parameter) => Value | Problem {
  return (text) => {
    const typed = parseSpeed(text, drive, shaft);
    if (isProblem(typed)) return typed;
    return {
      value: shaftSpeed(typed.speed, diameter),
      shownIn: typed.speed.as === 'shaft' ? typed.shownIn : 'rpm',
    };
  };
}
