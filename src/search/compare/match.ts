import { bracket } from '../../model/numerics/root.ts';
import { type Expression, namesIn } from '../../scenario/expression/expression.ts';
import { toCase, withValues } from '../../scenario/operating-point.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import { asksFeedAtChoke, expressionValue } from '../../scenario/outcome/spec.ts';
import type { Scenario } from '../../scenario/scenario.ts';

/** What wheels are matched in, and its value, SI. */
export interface Target {
  /** Name of a quantity, or the text of an expression over quantities. */
  readonly quantity: string;
  readonly value: number;
  /** Where `quantity` is more than a name: `passing(75 um)`, `x90/x10`. */
  readonly expression?: Expression;
  /** Unit in which an expression is shown. */
  readonly shownIn?: string;
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
      /** Other shaft speeds at which the target is met too, ascending [1/s]. */
      readonly alsoAt: readonly number[];
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

/** How finely a target is sought. */
interface Search {
  /** Median of the product looked for [m]: of several speeds the one whose product is nearest it, else the lowest. */
  readonly near?: number;
  /** Relative width of the speed found. */
  readonly tolerance?: number;
}

const STEPS = 48;
const HALVINGS = 60;
const FINE = 1e-12;
/** Lowest speed looked at, over the highest. */
export const LOWEST = 0.02;

/** Value of what is matched in at a solved point, SI. */
export function targetValue(
  { quantity, expression }: Pick<Target, 'quantity' | 'expression'>,
  solved: Solved,
): number {
  return expression ? expressionValue(expression, solved) : quantityNamed(quantity)!.of(solved);
}

/**
 * Runs a wheel at the speed at which a quantity has the target's value, everything else as the scenario has it. Where it has
 * the value at several speeds, the one nearest in product is taken and the others are named.
 *
 * @example matchWheel(scenario, 'long-leaning', { quantity: 'x95', value: 65e-6 })
 */
export function matchWheel(scenario: Scenario, wheel: string, target: Target, search: Search = {}): Matched {
  const solve = solverOf(scenario, wheel, target);
  const scan = scanOf(scenario, wheel, solve);
  const crossings = scan.flatMap((here, k) => {
    const next = scan[k + 1];
    if (here.value === target.value) return [here];
    if (!next || !((here.value - target.value) * (next.value - target.value) < 0)) return [];
    return [between(target, here, next, search, solve)];
  });
  const steady = crossings.filter(({ point }) => point.status === 'steady');
  const first = nearestIn(steady, search.near);
  if (!first)
    return crossings.length > 0 ? lost(wheel, crossings[0]!.speed) : missed(scenario, wheel, target, scan);
  const full = solvePoint(toCase(first.at));
  if (full.status === 'choked') return lost(wheel, first.speed);
  const alsoAt = steady.filter((each) => each !== first).map(({ speed }) => speed);
  return { reached: true, wheel, scenario: first.at, solved: full, speed: first.speed, alsoAt };
}

/** Values of what is matched in over the speeds of a wheel; NaN where the mill chokes. */
export function valuesOver(
  scenario: Scenario,
  wheel: string,
  target: Pick<Target, 'quantity' | 'expression'>,
): number[] {
  const solve = solverOf(scenario, wheel, target);
  return scanOf(scenario, wheel, solve).map(({ value }) => value);
}

/** A scenario with another wheel at a shaft speed [1/s]. */
export function atSpeed(scenario: Scenario, wheel: string, speed: number): Scenario {
  return withValues(scenario, [{ path: 'wheel' }, { path: 'wheelSpeed', as: 'shaft' }], [wheel, speed]);
}

interface Tried {
  readonly speed: number;
  readonly at: Scenario;
  readonly point: ReturnType<typeof solvePoint>;
  readonly value: number;
}

type Solve = (speed: number) => Tried;

function solverOf(scenario: Scenario, wheel: string, target: Pick<Target, 'quantity' | 'expression'>): Solve {
  const choke = asksFeedAtChoke({
    quantities: target.expression ? namesIn(target.expression) : [target.quantity],
  });
  return (speed) => {
    const at = atSpeed(scenario, wheel, speed);
    const point = solvePoint(toCase(at), { choke });
    return { speed, at, point, value: point.status === 'choked' ? Number.NaN : targetValue(target, point) };
  };
}

function scanOf(scenario: Scenario, wheel: string, solve: Solve): Tried[] {
  const top = scenario.machine.wheels[wheel]!.maxSpeed;
  return Array.from({ length: STEPS + 1 }, (_, k) => solve(top * (LOWEST + ((1 - LOWEST) * k) / STEPS)));
}

function between(
  target: Target,
  before: Tried,
  here: Tried,
  { tolerance = FINE }: Search,
  solve: Solve,
): Tried {
  const side = Math.sign(before.value - target.value);
  const isBefore = (speed: number) => Math.sign(solve(speed).value - target.value) === side;
  return solve(bracket(isBefore, before.speed, here.speed, { within: tolerance, steps: HALVINGS }).fails);
}

/** The crossing whose product is nearest in its median, else the one at the lowest speed. */
function nearestIn(crossings: readonly Tried[], near: number | undefined): Tried | undefined {
  if (near === undefined || crossings.length < 2) return crossings[0];
  const apart = ({ point }: Tried) =>
    point.status === 'steady'
      ? Math.abs(Math.log(quantityNamed('x50')!.of(point) / near))
      : Number.POSITIVE_INFINITY;
  return crossings.reduce((best, each) => (apart(each) < apart(best) ? each : best));
}

function lost(wheel: string, speed: number): Matched {
  return { reached: false, wheel, nearest: Number.NaN, speed, because: 'chokes before' };
}

function missed(scenario: Scenario, wheel: string, target: Target, scan: readonly Tried[]): Matched {
  const gap = ({ value }: Tried) => Math.abs(value - target.value);
  const nearest = scan.reduce((best, each) =>
    Number.isNaN(best.value) || gap(each) < gap(best) ? each : best,
  );
  const because = Number.isNaN(scan.at(-1)!.value)
    ? 'chokes before'
    : nearest.speed < scenario.machine.wheels[wheel]!.maxSpeed / 2
      ? 'coarser than asked at rest'
      : 'top speed';
  return { reached: false, wheel, nearest: nearest.value, speed: nearest.speed, because };
}
