import { mix } from '../../scenario/design/sequence/hash.ts';
import { sobolCoordinate, sobolDirections } from '../../scenario/design/sequence/sobol.ts';
import { isBetter, type Merit } from './objective.ts';

/** A point of the unit cube and how good it is. */
export interface Place {
  readonly at: readonly number[];
  readonly merit: Merit;
}

/** How much a search may spend; more of each finds harder optima. */
export interface Effort {
  /** Space-filling points per dimension. */
  readonly points: number;
  readonly population: number;
  readonly generations: number;
  /** Best places from which a pattern search starts. */
  readonly starts: number;
  /** Polls of each pattern search; as many as it takes where absent. */
  readonly polls?: number;
}

export const EFFORT: Effort = { points: 512, population: 32, generations: 60, starts: 3 };
/** Weight of a difference and chance of crossing over (`recalled`: Storn & Price 1997). */
const WEIGHT = 0.7;
const CROSSOVER = 0.9;
const FIRST_STEP = 0.05;
const LAST_STEP = 1e-6;
const MOST_POLLS = 400;

type Uniform = () => number;

function uniformOf(seed: number): Uniform {
  let count = 0;
  return () => (mix(count++, seed) + 0.5) / 2 ** 32;
}

/**
 * Best point of the unit cube for a merit that need not be smooth: space-filling points, a population that evolves by
 * differences (Storn & Price 1997) under feasibility rules (Deb 2000), then pattern searches along turned directions.
 * The same seed gives the same answer.
 *
 * @param dimensions ≥ 0
 * @param meritAt merit at a point of the cube
 */
export function optimise(
  dimensions: number,
  meritAt: (at: readonly number[]) => Merit,
  seed: number,
  effort: Effort = EFFORT,
  known: readonly (readonly number[])[] = [],
): Place {
  const place = (at: readonly number[]): Place => ({ at, merit: meritAt(at) });
  if (dimensions === 0) return place([]);
  const uniform = uniformOf(seed);
  const spread = spacefilling(dimensions, effort.points * dimensions, seed);
  const places = [...known, ...spread].map(place).sort(byMerit);
  const population = evolve(places.slice(0, effort.population), place, uniform, effort.generations);
  const best = [...population].sort(byMerit).slice(0, effort.starts);
  return best.map((start) => pattern(start, place, uniform, effort.polls)).sort(byMerit)[0]!;
}

function byMerit(a: Place, b: Place): number {
  if (isBetter(a.merit, b.merit)) return -1;
  return isBetter(b.merit, a.merit) ? 1 : 0;
}

/** Points of the unit cube, spread evenly; the same seed gives the same points. */
export function spacefilling(dimensions: number, count: number, seed: number): number[][] {
  const directions = sobolDirections(dimensions);
  return Array.from({ length: count }, (_, i) =>
    Array.from({ length: dimensions }, (_, j) => sobolCoordinate(directions, i, j, seed)),
  );
}

function evolve(
  first: readonly Place[],
  place: (at: readonly number[]) => Place,
  uniform: Uniform,
  generations: number,
): Place[] {
  const population = [...first];
  const any = (): Place => population[Math.floor(uniform() * population.length)]!;
  for (let generation = 0; generation < generations; generation++) {
    const best = population.reduce((a, b) => (isBetter(b.merit, a.merit) ? b : a));
    for (let i = 0; i < population.length; i++) {
      const own = population[i]!;
      const toward = generation % 2 === 0 ? any() : best;
      const one = any();
      const other = any();
      const always = Math.floor(uniform() * own.at.length);
      const at = own.at.map((value, j) =>
        j === always || uniform() < CROSSOVER
          ? into(toward.at[j]! + WEIGHT * (one.at[j]! - other.at[j]!), value)
          : value,
      );
      const next = place(at);
      if (!isBetter(own.merit, next.merit)) population[i] = next;
    }
  }
  return population;
}

/** A coordinate beyond an end is put half way between where it came from and the end, now and then on the end. */
function into(value: number, from: number): number {
  if (value < 0) return from < 1e-3 ? 0 : from / 2;
  if (value > 1) return from > 1 - 1e-3 ? 1 : (1 + from) / 2;
  return value;
}

/**
 * Pattern search along the axes and along a basis turned at random at each poll, so that it can follow an edge where limits
 * meet; the step is halved when no direction helps.
 */
function pattern(
  start: Place,
  place: (at: readonly number[]) => Place,
  uniform: Uniform,
  polls = MOST_POLLS,
): Place {
  let best = start;
  let step = FIRST_STEP;
  for (let poll = 0; poll < polls && step > LAST_STEP; poll++) {
    let found = false;
    for (const direction of directionsOf(best.at.length, uniform)) {
      const at = best.at.map((value, j) => Math.min(1, Math.max(0, value + step * direction[j]!)));
      const next = place(at);
      if (isBetter(next.merit, best.merit)) {
        best = next;
        found = true;
      }
    }
    step = found ? Math.min(0.2, step * 1.6) : step / 2;
  }
  return best;
}

function directionsOf(n: number, uniform: Uniform): number[][] {
  const axes = Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => (i === j ? 1 : 0)));
  const turned = Array.from({ length: 2 * n }, () => {
    const raw = Array.from({ length: n }, () => 2 * uniform() - 1);
    const length = Math.hypot(...raw);
    return raw.map((value) => value / length);
  });
  return [...axes, ...turned].flatMap((one) => [one, one.map((value) => -value)]);
}
