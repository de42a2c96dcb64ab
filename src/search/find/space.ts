import { isNamed } from '../../scenario/design/coordinate.ts';
import type { Factor, Scenario, SettingRange } from '../../scenario/scenario.ts';

/** What a search may vary: numbers within their ranges, and every combination of the choices. */
export interface SearchSpace {
  readonly factors: readonly Factor[];
  /** Places in `factors` of the numbers that vary. */
  readonly numbers: readonly number[];
  /** One coordinate per listed factor, NaN at the numbers. */
  readonly choices: readonly Float64Array[];
  /** Ranges the file did not give, in words. */
  readonly taken: readonly string[];
}

const MOST_CHOICES = 256;
/** Ranges where neither `sweep.factors` nor `machine.ranges` gives one, as shares of the highest speed or of the feed rate (`assumed`). */
const TAKEN = { rotorSpeed: [0.5, 1], wheelSpeed: [0.1, 1], feedRate: [0.2, 4] } as const;

/**
 * The space of `sweep.factors`, else of the machine's ranges and all its wheels.
 *
 * @returns the space, or why there is none, in words
 */
export function searchSpace(scenario: Scenario): SearchSpace | string {
  const taken: string[] = [];
  const factors = scenario.sweep?.factors ?? machineFactors(scenario, taken);
  const numbers = factors.flatMap(({ kind }, j) => (kind === 'number' ? [j] : []));
  const count = factors.reduce((n, one) => n * (one.kind === 'levels' ? one.levels.length : 1), 1);
  if (count > MOST_CHOICES) {
    return `sweep.factors lists ${count} combinations; give numbers as { from, to } so that they can vary freely (at most ${MOST_CHOICES} combinations)`;
  }
  return { factors, numbers, choices: combinations(factors), taken };
}

function combinations(factors: readonly Factor[]): Float64Array[] {
  let all: number[][] = [[]];
  for (const factor of factors) {
    const values =
      factor.kind === 'number'
        ? [Number.NaN]
        : factor.levels.map((level, k) => (isNamed(factor) ? k : (level as number)));
    all = all.flatMap((head) => values.map((value) => [...head, value]));
  }
  return all.map((values) => Float64Array.from(values));
}

function machineFactors(scenario: Scenario, taken: string[]): Factor[] {
  const { machine, settings } = scenario;
  const wheels = Object.keys(machine.wheels);
  const top = Math.max(...wheels.map((name) => machine.wheels[name]!.maxSpeed));
  const given = machine.ranges ?? {};
  return [
    ...(wheels.length > 1 ? [{ kind: 'levels', path: 'wheel', levels: wheels, shownIn: '1' } as const] : []),
    number('rotorSpeed', given.rotorSpeed ?? share('rotorSpeed', machine.rotor.maxSpeed, taken), 'rpm'),
    number('wheelSpeed', given.wheelSpeed ?? share('wheelSpeed', top, taken), 'rpm'),
    number('feedRate', given.feedRate ?? share('feedRate', settings.feedRate, taken), 'kg/h'),
  ];
}

function share(name: keyof typeof TAKEN, whole: number, taken: string[]): SettingRange {
  const [low, high] = TAKEN[name];
  const of = name === 'feedRate' ? 'the feed rate of the file' : 'the highest speed';
  taken.push(`${name} is searched from ${low} to ${high} times ${of}: the file gives no range`);
  return { from: low * whole, to: high * whole, ...(name === 'feedRate' ? {} : { as: 'shaft' as const }) };
}

function number(path: string, range: SettingRange, shownIn: string): Factor {
  return {
    kind: 'number',
    path,
    from: range.from,
    to: range.to,
    scale: 'linear',
    integer: false,
    ...(range.as ? { as: range.as } : {}),
    shownIn: range.as === 'rim' ? 'm/s' : shownIn,
  };
}

/** Coordinate of a number factor at u in 0…1, both ends reached. */
export function coordinateOf(factor: Factor, u: number): number {
  if (factor.kind !== 'number') return Number.NaN;
  const { from, to, scale, integer } = factor;
  const at = u <= 0 ? from : u >= 1 ? to : scale === 'log' ? from * (to / from) ** u : from + u * (to - from);
  return integer ? Math.round(at) : at;
}

/** u of a coordinate. */
export function shareOf(factor: Factor, coordinate: number): number {
  if (factor.kind !== 'number') return Number.NaN;
  const { from, to, scale } = factor;
  return scale === 'log'
    ? Math.log(coordinate / from) / Math.log(to / from)
    : (coordinate - from) / (to - from);
}
