import { normal, type Random } from '../random.ts';
import type { JointDensity } from './density.ts';
import { effectiveDraws } from './effective-draws.ts';
import { ERROR_LEVELS, LEVEL_NAMES } from './error-levels.ts';
import { flatCholesky, forwardSolve, lowerTimes } from './flat-cholesky.ts';
import { glide } from './glide.ts';
import { type Place, placeAt } from './place.ts';
import { surrogateOf } from './surrogate.ts';

export interface ChainEffort {
  /** Sweeps of the whole ensemble that only find the way. */
  readonly burnIn: number;
  /** Sweeps that solve draws of a rough surrogate, so that the next is made of them too. */
  readonly second: number;
  /** Sweeps on the surrogate at most, which cost no solve of the model. */
  readonly surrogate: number;
  /** Sweeps kept at least, and at most. */
  readonly least: number;
  readonly most: number;
  /** Effective draws at which it ends. */
  readonly effective: number;
}

export interface Chain {
  /** All places kept, sweep by sweep, walker by walker. */
  readonly places: readonly Place[];
  /** Effective number of draws behind them: of the coefficient that is worst. */
  readonly effective: number;
}

/** Times the burn-in learns the shape of the distribution. */
const LEARNINGS = 4;
const CHECK_EVERY = 5;
/** How far an autoregressive step goes short of a fresh draw, 0 nowhere; each as often (`assumed`). */
const STEPS = [0.4, 0.7] as const;
/** ν of Student's distribution that steps are drawn about. */
const FREEDOM = 8;
/** Shares of the moves while the way is found, and after. */
const FINDING: Moves = { pool: 0, difference: 0.45, fresh: 0.2 };
const KEEPING: Moves = { pool: 0.7, difference: 0.1, fresh: 0.1 };
/** Share of the moves on the surrogate that glide; the rest goes along differences. */
const GLIDES = 0.85;
/** Rough surrogates before the one that is kept, and the effective draws of each. */
const WIDENINGS = 1;
const ROUGH = 60;
/** Every so manieth sweep on the surrogate is kept to be proposed. */
const POOL_EVERY = 2;
/** Sweeps on the surrogate that only find the way, and after how many it is judged again. */
const POOL_BEGINS = 10;
const POOL_CHECK = 40;
/** Draws of the surrogate over those wanted in the end: two samples in a row are worth less than each. */
const POOL_OVER = 2.2;

/** Shares of the moves; the rest is autoregressive. */
interface Moves {
  /** A draw from the posterior with the surrogate in place of the model. */
  readonly pool: number;
  readonly difference: number;
  /** An autoregressive step all the way. */
  readonly fresh: number;
}

/**
 * An ensemble of walkers under moves each of which leaves the posterior as it is. One goes along the difference of two
 * other walkers, which follows any bend (differential evolution, `recalled`: ter Braak, Stat. Comput. 16 (2006) 239). One is
 * an autoregressive step in Student's distribution fitted to the burn-in, accepted by the ratio of the posterior to it
 * (`recalled`: Kamatani, Bernoulli 24 (2018) 3711). One proposes a draw of the posterior with a quadratic surrogate in
 * place of the model, sampled beforehand by the same ensemble, and lets the model accept or refuse it: one solve buys
 * nearly a fresh draw. The surrogate is made anew of the points its draws led to: those of the
 * burn-in alone lie too near together. Levels of the errors step between: no model is solved for them.
 *
 * @param starts where the walkers begin
 * @param progress told the share done
 */
export function runChain(
  density: JointDensity,
  starts: readonly Place[],
  random: Random,
  effort: ChainEffort,
  progress: (share: number) => void = () => {},
): Chain {
  const walkers = [...starts];
  const found = foundWay({ density, walkers, sweeps: effort.burnIn }, random, (share) => progress(share / 4));
  let wider = found;
  let pool: Pool | undefined;
  for (let round = 0; round < WIDENINGS; round++) {
    pool = poolOf({ density, walkers, sweeps: effort.surrogate }, wider, ROUGH, random) ?? pool;
    if (pool) wider = widened(density, walkers, wider, pool, effort.second, random);
    progress(0.25 + (0.15 * (round + 1)) / WIDENINGS);
  }
  const enough = POOL_OVER * effort.effective;
  pool = poolOf({ density, walkers, sweeps: effort.surrogate }, wider, enough, random) ?? pool;
  progress(0.5);
  const ground = { density, shape: wider.shape, pool };
  const places: Place[] = [];
  let effective = 0;
  for (let sweep = 0; sweep < effort.most; sweep++) {
    sweepOnce(ground, walkers, KEEPING, random);
    places.push(...walkers);
    if ((sweep + 1) % CHECK_EVERY !== 0) continue;
    progress(0.5 + (0.5 * (sweep + 1)) / effort.most);
    if (sweep + 1 < effort.least) continue;
    effective = judged(places, walkers.length, pool);
    if (effective >= effort.effective) break;
  }
  return { places, effective: effective || judged(places, walkers.length, pool) };
}

/** The way found once more, with the draws of a first surrogate solved: they lie wider than the walkers of the burn-in. */
function widened(
  density: JointDensity,
  walkers: Place[],
  { shape, solved }: Found,
  pool: Pool,
  sweeps: number,
  random: Random,
): Found {
  const more: Place[] = [];
  const ground = { density, shape, pool, note: (place: Place) => more.push(place) };
  for (let sweep = 0; sweep < sweeps; sweep++) sweepOnce(ground, walkers, KEEPING, random);
  return { shape: shapeOf(pool.places), solved: [...solved, ...more] };
}

/** Draws of the ensemble, no more than those the surrogate's pool is worth where most of them come from it. */
function judged(places: readonly Place[], walkers: number, pool: Pool | undefined): number {
  const own = effectiveDraws(places, walkers);
  return pool ? 1 / (1 / own + 1 / pool.effective) : own;
}

interface Found {
  readonly shape: Shape;
  /** Every point the model was solved at on the way. */
  readonly solved: readonly Place[];
}

/** Walkers on a density. */
interface Company {
  readonly density: JointDensity;
  readonly walkers: Place[];
  readonly sweeps: number;
}

function foundWay(
  { density, walkers, sweeps }: Company,
  random: Random,
  progress: (share: number) => void,
): Found {
  const solved: Place[] = [...walkers];
  let shape = shapeOf(walkers);
  let seen: Place[] = [];
  for (let sweep = 0; sweep < sweeps; sweep++) {
    sweepOnce({ density, shape, note: (place) => solved.push(place) }, walkers, FINDING, random);
    seen.push(...walkers);
    if ((sweep + 1) % Math.ceil(sweeps / LEARNINGS) !== 0) continue;
    shape = shapeOf(seen);
    if (sweep + 1 < sweeps) seen = seen.slice(seen.length >> 1);
    progress((sweep + 1) / sweeps);
  }
  return { shape, solved };
}

/** Draws of the posterior with the surrogate in place of the model. */
interface Pool {
  readonly density: JointDensity;
  readonly places: readonly Place[];
  readonly effective: number;
}

function poolOf(
  { density, walkers, sweeps }: Company,
  { shape, solved }: Found,
  enough: number,
  random: Random,
): Pool | undefined {
  const surrogate = surrogateOf(density, solved, shape.mean, shape.lower);
  if (!surrogate) return undefined;
  const there: JointDensity = { ...density, at: surrogate.at };
  const begun = walkers.flatMap(({ point, index }) => {
    const cheap = surrogate.at(point.coordinates);
    return cheap ? [placeAt(there, cheap, index)] : [];
  });
  if (begun.length < walkers.length / 2) return undefined;
  const places: Place[] = [];
  for (let sweep = 0; sweep < sweeps; sweep++) {
    for (let k = 0; k < begun.length; k++) {
      const here =
        random() < GLIDES
          ? glide(there, surrogate, begun[k]!, random)
          : alongDifference({ density: there, shape }, begun, k, random);
      begun[k] = levelMoves(there, levelMoves(there, here, random), random);
    }
    if (sweep < POOL_BEGINS) continue;
    if (sweep % POOL_EVERY === 0) places.push(...begun);
    if (sweep % POOL_CHECK !== 0) continue;
    if (effectiveDraws(places, begun.length) > enough) break;
  }
  return { density: there, places, effective: effectiveDraws(places, begun.length) };
}

/** A Student distribution's middle and Cholesky factor. */
interface Shape {
  readonly mean: Float64Array;
  readonly lower: Float64Array;
}

/** What the moves go by. */
interface Ground {
  readonly density: JointDensity;
  readonly shape: Shape;
  readonly pool?: Pool | undefined;
  /** Told every point the model is solved at. */
  readonly note?: (place: Place) => void;
}

function sweepOnce(ground: Ground, walkers: Place[], shares: Moves, random: Random): void {
  const { shape, pool } = ground;
  for (let k = 0; k < walkers.length; k++) {
    const draw = random();
    let here = walkers[k]!;
    if (pool && draw < shares.pool) here = fromPool(ground, pool, here, random);
    else if (draw < shares.pool + shares.difference) here = alongDifference(ground, walkers, k, random);
    else {
      const fresh = draw < shares.pool + shares.difference + shares.fresh;
      const step = fresh ? 1 : STEPS[Math.floor(random() * STEPS.length)]!;
      here = autoregressive(ground, here, shape, step, random);
    }
    walkers[k] = levelMoves(ground.density, here, random);
  }
}

/** A draw of the pool, accepted by π(y) π*(x)/(π(x) π*(y)). */
function fromPool({ density, note }: Ground, pool: Pool, here: Place, random: Random): Place {
  const to = pool.places[Math.floor(random() * pool.places.length)]!;
  const draw = Math.log(random());
  const begun = pool.density.at(here.point.coordinates);
  const point = begun || note ? density.at(to.point.coordinates) : undefined;
  if (point && note) note(placeAt(density, point, to.index));
  if (!begun || !point) return here;
  const from = placeAt(pool.density, begun, here.index);
  const there = placeAt(density, point, to.index);
  return draw < there.density - here.density - (to.density - from.density) ? there : here;
}

function alongDifference(ground: Ground, walkers: readonly Place[], own: number, random: Random): Place {
  const here = walkers[own]!;
  const n = walkers.length;
  const other = (not: number): number => {
    let at = Math.floor(random() * (n - 1));
    if (at >= own) at++;
    return at === not ? other(not) : at;
  };
  const first = other(-1);
  const second = other(first);
  const from = walkers[first]!.point.coordinates;
  const to = walkers[second]!.point.coordinates;
  const d = from.length;
  // now and then the whole difference, which leads from one hill to another
  const length = random() < 0.1 ? 1 : (2.38 / Math.sqrt(2 * d)) * Math.exp(0.5 * normal(random));
  const at = here.point.coordinates.map(
    (value, i) => value + length * (to[i]! - from[i]!) + 1e-5 * normal(random),
  );
  return accepted(ground, here, at, 0, random);
}

function autoregressive(
  ground: Ground,
  here: Place,
  { mean, lower }: Shape,
  step: number,
  random: Random,
): Place {
  const d = mean.length;
  const away = (at: readonly number[]): { v: Float64Array; square: number } => {
    const v = Float64Array.from(at, (value, i) => value - mean[i]!);
    const white = new Float64Array(d);
    forwardSolve(lower, d, v, white);
    return { v, square: white.reduce((sum, value) => sum + value * value, 0) };
  };
  const now = away(here.point.coordinates);
  // the scale a Student point may have come from: χ² with ν + d degrees over ν + its square
  const stretch = Math.sqrt((FREEDOM + now.square) / chiSquare(FREEDOM + d, random));
  const free = lowerTimes(
    lower,
    d,
    Float64Array.from({ length: d }, () => normal(random)),
  );
  const stay = Math.sqrt(1 - step * step);
  const at = here.point.coordinates.map((_, i) => mean[i]! + stay * now.v[i]! + step * stretch * free[i]!);
  const there = away(at).square;
  const proposal = ((FREEDOM + d) / 2) * (Math.log1p(there / FREEDOM) - Math.log1p(now.square / FREEDOM));
  return accepted(ground, here, at, proposal, random);
}

/** The step where it is accepted, else the place it began from. */
function accepted(
  { density, note }: Ground,
  here: Place,
  at: readonly number[],
  proposal: number,
  random: Random,
): Place {
  const point = density.at(at);
  const draw = Math.log(random());
  if (!point) return here;
  const there = placeAt(density, point, here.index);
  note?.(there);
  return draw < there.density - here.density + proposal ? there : here;
}

function levelMoves({ errors }: JointDensity, start: Place, random: Random): Place {
  let here = start;
  for (const name of LEVEL_NAMES) {
    const reach = name === 'size' || name === 'power' ? 3 : 1;
    const move = (1 + Math.floor(random() * reach)) * (random() < 0.5 ? -1 : 1);
    const level = here.index[name] + move;
    const draw = Math.log(random());
    if (level < 0 || level >= ERROR_LEVELS[name].values.length) continue;
    const index = { ...here.index, [name]: level };
    const { residuals } = here.point;
    const sizes = name === 'power' ? here.sizes : errors.ofSizes(residuals, index);
    const powers = name === 'power' || name === 'shared' ? errors.ofPowers(residuals, index) : here.powers;
    const weights = ERROR_LEVELS[name].logarithms;
    const gain = sizes - here.sizes + powers - here.powers + weights[level]! - weights[here.index[name]]!;
    if (draw < gain) here = { point: here.point, index, sizes, powers, density: here.density + gain };
  }
  return here;
}

/** χ² by Marsaglia & Tsang's gamma numbers (`recalled`: ACM Trans. Math. Softw. 26 (2000) 363). */
function chiSquare(freedom: number, random: Random): number {
  const d = freedom / 2 - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal(random);
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(1 - random()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return 2 * d * v;
  }
}

function shapeOf(places: readonly Place[]): Shape {
  const d = places[0]!.point.coordinates.length;
  const mean = new Float64Array(d);
  for (const { point } of places)
    for (let i = 0; i < d; i++) mean[i]! += point.coordinates[i]! / places.length;
  const covariance = new Float64Array(d * d);
  for (const { point } of places) {
    for (let i = 0; i < d; i++) {
      const a = point.coordinates[i]! - mean[i]!;
      for (let j = 0; j <= i; j++)
        covariance[i * d + j]! += (a * (point.coordinates[j]! - mean[j]!)) / places.length;
    }
  }
  // a direction in which the walkers happen to agree must not close
  for (let i = 0; i < d; i++) {
    for (let j = 0; j < i; j++) covariance[j * d + i] = covariance[i * d + j]!;
    covariance[i * d + i] = covariance[i * d + i]! * (1 + 1e-4) + 1e-8;
  }
  return { mean, lower: flatCholesky(covariance, d) };
}
