import { toCase, withValues } from '../../scenario/operating-point.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import { asksFeedAtChoke } from '../../scenario/outcome/spec.ts';
import type { Scenario } from '../../scenario/scenario.ts';

/** What wheels are matched in: a quantity that falls or rises steadily with wheel speed, and its value, SI. */
export interface Target {
  readonly quantity: string;
  readonly value: number;
}

/** A wheel run so that it meets the target, or how near it comes. */
export type Matched =
  | {
      readonly reached: true;
      readonly wheel: string;
      readonly scenario: Scenario;
      readonly solved: Solved;
      /** Shaft speed [1/s]. */
      readonly speed: number;
    }
  | {
      readonly reached: false;
      readonly wheel: string;
      /** Value of the quantity nearest the target, SI; NaN where it chokes at every speed. */
      readonly nearest: number;
      /** Shaft speed there [1/s]. */
      readonly speed: number;
      readonly because: 'top speed' | 'chokes before' | 'coarser than asked at rest' | 'rotor too fast';
    };

const STEPS = 48;
const HALVINGS = 60;
const LOWEST = 0.02;

/**
 * Runs a wheel at the speed at which a quantity has the target's value, everything else as the scenario has it. The lowest
 * such speed is taken.
 *
 * @example matchWheel(scenario, 'long-leaning', { quantity: 'x95', value: 65e-6 })
 */
export function matchWheel(scenario: Scenario, wheel: string, target: Target): Matched {
  const top = scenario.machine.wheels[wheel]!.maxSpeed;
  const quantity = quantityNamed(target.quantity)!;
  const choke = asksFeedAtChoke({ quantities: [target.quantity] });
  const solve = (speed: number) => {
    const at = atSpeed(scenario, wheel, speed);
    const point = solvePoint(toCase(at), { choke });
    return { at, point, value: point.status === 'choked' ? Number.NaN : quantity.of(point) };
  };
  let before = { speed: LOWEST * top, ...solve(LOWEST * top) };
  let nearest = before;
  const gap = (value: number) => Math.abs(value - target.value);
  for (let k = 1; k <= STEPS; k++) {
    const speed = top * (LOWEST + ((1 - LOWEST) * k) / STEPS);
    const here = { speed, ...solve(speed) };
    if (Number.isNaN(nearest.value) || gap(here.value) < gap(nearest.value)) nearest = here;
    if ((before.value - target.value) * (here.value - target.value) <= 0) {
      return between(wheel, target, before.speed, speed, before.value, solve);
    }
    before = here;
  }
  const choked = Number.isNaN(before.value);
  const because = choked
    ? 'chokes before'
    : nearest.speed < top / 2
      ? 'coarser than asked at rest'
      : 'top speed';
  return { reached: false, wheel, nearest: nearest.value, speed: nearest.speed, because };
}

/** A scenario with another wheel at a shaft speed [1/s]. */
export function atSpeed(scenario: Scenario, wheel: string, speed: number): Scenario {
  return withValues(scenario, [{ path: 'wheel' }, { path: 'wheelSpeed', as: 'shaft' }], [wheel, speed]);
}

type Solve = (speed: number) => {
  readonly at: Scenario;
  readonly point: ReturnType<typeof solvePoint>;
  readonly value: number;
};

function between(
  wheel: string,
  target: Target,
  low: number,
  high: number,
  lowValue: number,
  solve: Solve,
): Matched {
  const side = Math.sign(lowValue - target.value);
  let [from, to] = [low, high];
  for (let k = 0; k < HALVINGS && to - from > 1e-12 * to; k++) {
    const middle = (from + to) / 2;
    if (Math.sign(solve(middle).value - target.value) === side) from = middle;
    else to = middle;
  }
  const { at: scenario, point } = solve(to);
  const full = solvePoint(toCase(scenario));
  if (point.status === 'choked' || full.status === 'choked') {
    return { reached: false, wheel, nearest: Number.NaN, speed: to, because: 'chokes before' };
  }
  return { reached: true, wheel, scenario, solved: full, speed: to };
}
