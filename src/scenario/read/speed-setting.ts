import type { Parameter } from '../../model/parameters.ts';
import { shaftSpeed } from '../operating-point.ts';
import { SPEED_ROUNDING } from '../outcome/overspeed.ts';
import type { Scenario, Speed } from '../scenario.ts';
import { formatQuantity } from '../units/display.ts';
import { type Context, join } from './reading-context.ts';
import { enter } from './record-evidence.ts';
import { impossibleSpeed } from './speed-question.ts';

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
  machine: Scenario['machine'],
  wheels: readonly string[],
): string | undefined {
  if (!(speed.value > 0)) return 'must be > 0';
  const shaft = name === 'rotorSpeed' ? 'rotor' : 'wheel';
  const tops =
    name === 'rotorSpeed'
      ? [{ part: 'rotor', diameter: machine.rotor.geometry.diameter, top: machine.rotor.maxSpeed }]
      : wheels.flatMap((wheel) => {
          const of = Object.hasOwn(machine.wheels, wheel) ? machine.wheels[wheel] : undefined;
          return of ? [{ part: `wheel ${wheel}`, diameter: of.geometry.diameter, top: of.maxSpeed }] : [];
        });
  for (const { part, diameter, top } of tops) {
    const turns = shaftSpeed(speed, diameter);
    const impossible = impossibleSpeed(speed, diameter, shaft);
    if (impossible && !(turns > top * SPEED_ROUNDING)) return impossible;
    if (turns > top * SPEED_ROUNDING) {
      return `must be at most ${formatQuantity(top, 'rpm')}, the highest speed of the ${part}; is ${formatQuantity(turns, 'rpm')}`;
    }
  }
  return undefined;
}
