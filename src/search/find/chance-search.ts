import { type HeldSamples, heldAt, heldOf, marginModel } from './margin-model.ts';
import { isBetter, type Merit } from './objective.ts';
import { type Effort, optimise } from './optimise.ts';
import type { SampleBench } from './posterior-margins.ts';

/** A problem asked of many samples: the goal of the model at its mean, and a share of the samples that must meet the spec. */
export interface ChanceProblem {
  /** Numbers that vary, each 0…1. */
  readonly dimensions: number;
  readonly coordinates: (at: readonly number[]) => Float64Array;
  /** Merit of the model at its mean, without regard to the samples. */
  readonly judge: (coordinates: Float64Array) => Merit;
  readonly bench: SampleBench;
  /** Share of the samples that must meet the spec. */
  readonly wanted: number;
}

/** A place and how it stands in the samples. */
export interface ChancePlace {
  readonly at: readonly number[];
  /** Goal at the mean; violation is how far the chance falls short. */
  readonly merit: Merit;
  /** Share of the samples that meet the whole spec. */
  readonly chance: number;
}

/** How far a search may go; `samples` counts from the first. */
interface ChanceEffort {
  readonly samples: number;
  readonly steps: number;
  readonly radius: number;
}

interface Standing extends ChancePlace {
  /** Sample by sample and line by line. */
  readonly margins: Float64Array;
}

/** Where a climb ended, with what it knows of the place: another climb over the same samples may go on from it. */
export interface ChanceEnd extends Standing {
  /** Slope of every margin over every number, one array a number. */
  readonly slopes: readonly Float64Array[];
}

/** Step of the differences, as a share of the range. */
const STEP = 0.01;
const SMALLEST_RADIUS = 4e-3;
const LARGEST_RADIUS = 0.3;
const WIDEN = 1.6;
const NARROW = 0.35;
/** Steps in a row that led nowhere before slopes are taken afresh. */
const FRESH_AFTER = 2;
/** A step that gains less than this share of the goal is the last. */
const GAIN = 5e-4;
/** Weight of the tail's distance beside a missing share of the samples: it only leads where the share is flat. */
const LEAD = 1e-2;
const MODEL: Effort = { points: 24, population: 14, generations: 14, starts: 1, polls: 14 };

/**
 * Climbs to the best goal at which the share of samples wanted meets the spec, or to the largest share. Around each place every
 * margin of every sample is taken as linear in the settings; the model so made is searched within a radius, and what it finds
 * is asked of the samples themselves. The radius widens where the model held and narrows where it did not.
 *
 * @param start a place, or where a climb over as many of the same samples ended
 */
export function climbChance(
  problem: ChanceProblem,
  start: readonly number[] | ChanceEnd,
  { samples, steps, radius: first }: ChanceEffort,
  seed: number,
): ChanceEnd {
  const known = 'slopes' in start;
  let here = known ? standingWith(problem, start.at, start.margins) : standingAt(problem, start, samples);
  let slopes = known ? start.slopes : slopesAt(problem, here, samples);
  let radius = first;
  let failed = 0;
  for (let step = 0; step < steps && radius > SMALLEST_RADIUS; step++) {
    const next = standingAt(problem, bestOfModel(problem, here, slopes, radius, seed + step), samples);
    // a step that led nowhere tells of the slopes too; where that does not help either, they are taken afresh
    turn(slopes, here, next);
    if (isBetter(next.merit, here.merit)) {
      const gain = gainOf(here.merit, next.merit);
      here = next;
      failed = 0;
      if (gain < GAIN) break;
      radius = Math.min(LARGEST_RADIUS, radius * WIDEN);
    } else {
      radius *= NARROW;
      if (++failed === FRESH_AFTER) slopes = slopesAt(problem, here, samples);
    }
  }
  return { ...here, slopes };
}

/** Turns slopes by the least change that makes them agree with a step taken (`recalled`: Broyden 1965). */
function turn(slopes: readonly Float64Array[], from: Standing, to: Standing): void {
  const move = to.at.map((value, j) => value - from.at[j]!);
  const square = move.reduce((sum, value) => sum + value * value, 0);
  if (square === 0) return;
  for (let i = 0; i < to.margins.length; i++) {
    let miss = to.margins[i]! - from.margins[i]!;
    for (let j = 0; j < move.length; j++) miss -= slopes[j]![i]! * move[j]!;
    for (let j = 0; j < move.length; j++) slopes[j]![i]! += (miss * move[j]!) / square;
  }
}

/** Relative gain of the goal; infinite while the chance itself still rises. */
function gainOf(before: Merit, after: Merit): number {
  if (before.violation > 0) return Number.POSITIVE_INFINITY;
  return (after.goal - before.goal) / Math.max(Math.abs(after.goal), Number.MIN_VALUE);
}

/** A place asked of the samples themselves. */
export function placeAt(problem: ChanceProblem, at: readonly number[], samples: number): ChancePlace {
  const { merit, chance } = standingAt(problem, at, samples);
  return { at, merit, chance };
}

function standingAt(problem: ChanceProblem, at: readonly number[], samples: number): Standing {
  return standingWith(problem, at, problem.bench.marginsAt(problem.coordinates(at), samples));
}

function standingWith(problem: ChanceProblem, at: readonly number[], margins: Float64Array): Standing {
  const samples = margins.length / problem.bench.lines;
  const standing = heldOf(margins, problem.bench.lines);
  return {
    at,
    margins,
    merit: chanceMerit(standing, samples, problem.wanted, () => problem.judge(problem.coordinates(at))),
    chance: standing.held / samples,
  };
}

/** What too few samples meet comes last, then what the mean misses, then the goal; the mean is asked only where it matters. */
function chanceMerit(standing: HeldSamples, samples: number, wanted: number, plain: () => Merit): Merit {
  const short = shortfall(standing, samples, wanted);
  if (short > 0) return { goal: Number.NaN, violation: 1 + short };
  return plain();
}

/**
 * How far the share of samples that meet the spec falls short of the share wanted, led by how far the others miss it; 0 where
 * it does not fall short.
 */
function shortfall({ held, missed }: HeldSamples, samples: number, wanted: number): number {
  return held >= wanted * samples - 1e-9 ? 0 : wanted - held / samples + (LEAD * missed) / samples;
}

/** Slope of every margin over every number, one array a number. */
function slopesAt(
  { dimensions, coordinates, bench }: ChanceProblem,
  here: Standing,
  samples: number,
): Float64Array[] {
  return Array.from({ length: dimensions }, (_, j) => {
    const step = here.at[j]! > 0.5 ? -STEP : STEP;
    const moved = here.at.map((value, i) => (i === j ? value + step : value));
    return bench.marginsAt(coordinates(moved), samples).map((value, i) => (value - here.margins[i]!) / step);
  });
}

function bestOfModel(
  problem: ChanceProblem,
  here: Standing,
  slopes: readonly Float64Array[],
  radius: number,
  seed: number,
): readonly number[] {
  const { dimensions, coordinates, judge, bench, wanted } = problem;
  const low = here.at.map((value) => Math.max(0, value - radius));
  const high = here.at.map((value) => Math.min(1, value + radius));
  const place = (u: readonly number[]): number[] =>
    u.map((value, j) => low[j]! + value * (high[j]! - low[j]!));
  const model = marginModel(here.at, here.margins, slopes, bench.lines, low, high);
  const meritAt = (u: readonly number[]): Merit => {
    const at = place(u);
    return chanceMerit(heldAt(model, at), model.samples, wanted, () => judge(coordinates(at)));
  };
  const centre = here.at.map((value, j) => (value - low[j]!) / (high[j]! - low[j]! || 1));
  return place(optimise(dimensions, meritAt, seed, MODEL, [centre]).at);
}
