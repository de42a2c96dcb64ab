import type { Case } from '../../model/case.ts';
import { SPEED_ROUNDING, withinSpeeds } from './overspeed.ts';
import type { Solved } from './quantity.ts';

/** A limit of the machine that a point passes, in words and numbers. */
export interface MachineExcess {
  /** What is exceeded. */
  readonly name: 'rotor speed' | 'wheel speed' | 'rotor power';
  /** SI. */
  readonly value: number;
  readonly limit: number;
  readonly shownIn: string;
}

/**
 * Whether the machine can run a solved point: no shaft turns faster than it may, and the motor gives what the rotor needs.
 * A point beyond that meets no spec, whatever its product.
 */
export function withinMachine({ case: c, state }: Pick<Solved, 'case' | 'state'>): boolean {
  const { rotorPower, availablePower } = state.conditions;
  return withinSpeeds(c) && rotorPower <= availablePower * SPEED_ROUNDING;
}

/** The limits of the machine that a solved point passes, the one passed by the largest share of it first. */
export function machineExcess({ case: c, state }: Pick<Solved, 'case' | 'state'>): MachineExcess[] {
  const { rotorPower, availablePower } = state.conditions;
  return [
    ...speedExcess(c),
    ...over({ name: 'rotor power', value: rotorPower, limit: availablePower, shownIn: 'kW' }),
  ].sort((a, b) => b.value / b.limit - a.value / a.limit);
}

/** What a limit of the machine leaves free at a point, as a share of it: 0 at the limit, above 0 inside. */
interface MachineMargin {
  /** `highest rotor speed`. */
  readonly name: string;
  readonly margin: number;
}

/** Every limit of the machine, passed or not; what the motor leaves is not known where the mill chokes. */
export function machineMargins({ settings, rotor, wheel }: Case, state?: Solved['state']): MachineMargin[] {
  const free = (value: number, limit: number) => 1 - value / (limit * SPEED_ROUNDING);
  const { rotorPower, availablePower } = state?.conditions ?? UNKNOWN_POWER;
  return [
    { name: 'highest rotor speed', margin: free(settings.rotorSpeed, rotor.maxSpeed) },
    { name: 'highest wheel speed', margin: free(settings.wheelSpeed, wheel.maxSpeed) },
    { name: 'power of the motor', margin: free(rotorPower, availablePower) },
  ];
}

const UNKNOWN_POWER = { rotorPower: Number.NaN, availablePower: Number.NaN };

/** The highest speeds that a case passes; they are known of a point that chokes too. */
function speedExcess({ settings, rotor, wheel }: Case): MachineExcess[] {
  const { rotorSpeed, wheelSpeed } = settings;
  return [
    ...over({ name: 'rotor speed', value: rotorSpeed, limit: rotor.maxSpeed, shownIn: 'rpm' }),
    ...over({ name: 'wheel speed', value: wheelSpeed, limit: wheel.maxSpeed, shownIn: 'rpm' }),
  ];
}

function over(excess: MachineExcess): MachineExcess[] {
  return excess.value > excess.limit * SPEED_ROUNDING ? [excess] : [];
}
