import type { FoundPoint } from '../../search/find/find.ts';
import type { GradeFound } from './grade-found.ts';
import { feedOf } from './shared-settings.ts';

/** Some wheels, and each grade on the one of them that serves it best. */
export interface WheelSet {
  readonly wheels: readonly string[];
  /** In the order of the grades; undefined where none of these wheels meets the grade. */
  readonly points: readonly (FoundPoint | undefined)[];
  readonly served: number;
  /** To mill `LOT` of each grade served [s]. */
  readonly time: number;
}

/** Mass of each grade by which wheels are compared [kg]. */
export const LOT = 100;
/** Another wheel is named while it saves this share of the time, or serves another grade. */
const WORTH = 0.005;

/** What single wheels and sets of them make of the grades. */
export interface WheelSets {
  /** Every wheel by itself, best first. */
  readonly single: readonly WheelSet[];
  /** The best single wheel, it and the next, …, ending where another wheel brings nothing. */
  readonly growing: readonly WheelSet[];
}

/**
 * The best single wheel, then the one that adds most, and so on: by the grades served, then by the time for equal masses of
 * each. That difference is what one more wheel is worth. Coefficients as they stand.
 */
export function wheelSets(grades: readonly GradeFound[]): WheelSets {
  const names = [...new Set(grades.flatMap(({ answer }) => answer.nominal.byChoice.map(wheelOf)))];
  const single = names
    .map((name) => setOf([name], grades))
    .sort((a, b) => (isBetterSet(a, b) ? -1 : isBetterSet(b, a) ? 1 : 0));
  const growing = single.slice(0, 1);
  for (let before = growing[0]; before; before = growing.at(-1)!) {
    const kept = before.wheels;
    const [first, ...more] = names
      .filter((name) => !kept.includes(name))
      .map((name) => setOf([...kept, name], grades));
    if (!first) break;
    const best = more.reduce((a, b) => (isBetterSet(b, a) ? b : a), first);
    if (!(best.served > before.served || best.time < before.time * (1 - WORTH))) break;
    growing.push(best);
  }
  return { single, growing };
}

function isBetterSet(a: WheelSet, b: WheelSet): boolean {
  return a.served !== b.served ? a.served > b.served : a.time < b.time;
}

function setOf(wheels: readonly string[], grades: readonly GradeFound[]): WheelSet {
  const points = grades.map(({ answer }) =>
    answer.nominal.byChoice
      .filter((point) => wheels.includes(wheelOf(point)) && point.merit.violation === 0)
      .reduce<FoundPoint | undefined>(
        (best, each) => (best && feedOf(best) >= feedOf(each) ? best : each),
        undefined,
      ),
  );
  const met = points.filter((point) => point !== undefined);
  return {
    wheels,
    points,
    served: met.length,
    time: met.reduce((sum, point) => sum + LOT / feedOf(point), 0),
  };
}

function wheelOf({ scenario }: FoundPoint): string {
  return scenario.settings.wheel;
}
