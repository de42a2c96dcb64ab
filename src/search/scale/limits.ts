import type { Solved } from '../../scenario/outcome/quantity.ts';
import type { Difference } from './product.ts';

/** One thing that may limit a point: reached at 1, passed above. */
export interface Limit {
  readonly name: string;
  readonly use: number;
}

/** More limits than a machine's own, e.g. lines of a spec. */
export type MoreLimits = (solved: Solved) => readonly Limit[];

/** What limits a machine at a point: its shafts, its motor, how near it is to choking. */
export function machineLimits({ case: c, state }: Solved): Limit[] {
  const { rotorPower, availablePower } = state.conditions;
  return [
    { name: 'rotor motor', use: rotorPower / availablePower },
    { name: 'highest rotor speed', use: c.settings.rotorSpeed / c.rotor.maxSpeed },
    { name: 'highest wheel speed', use: c.settings.wheelSpeed / c.wheel.maxSpeed },
    { name: 'choking', use: c.settings.feedRate / state.feedAtChoke },
  ];
}

/** The product itself as a limit: how far it may differ from the one wanted. */
export function productLimit({ worst }: Difference, allowed: number): Limit {
  return { name: 'the product (it can no longer be met)', use: worst / allowed };
}

/** The limit reached first; a use that does not exist counts as passed. */
export function tightest(limits: readonly Limit[]): Limit {
  const size = ({ use }: Limit) => (Number.isNaN(use) ? Number.POSITIVE_INFINITY : use);
  return limits.reduce((most, each) => (size(each) > size(most) ? each : most));
}
