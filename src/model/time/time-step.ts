import { applyBalance, solveTriangular } from '../loop/triangular.ts';
import type { TimeSystem } from './system.ts';

const GAMMA = 1 - Math.SQRT1_2;

/** State in time: h by class of every component [kg/s], and scratch of the same shape. */
export interface TimeState {
  readonly arriving: readonly Float64Array[];
  readonly first: readonly Float64Array[];
  readonly second: readonly Float64Array[];
  readonly trial: readonly Float64Array[];
  readonly rate: readonly Float64Array[];
  readonly diagonal: Float64Array;
  readonly scaled: Float64Array;
  /** F_k at both ends of the step [kg/s]. */
  readonly feedNow: Float64Array;
  readonly feedNext: Float64Array;
  /** Steps that a negative h made fall back to backward Euler. */
  fallbacks: number;
}

/** An empty mill. */
export function emptyState(system: TimeSystem): TimeState {
  const arrays = () => system.components.map(({ feed }) => new Float64Array(feed.length));
  const longest = Math.max(...system.components.map(({ feed }) => feed.length));
  return {
    arriving: arrays(),
    first: arrays(),
    second: arrays(),
    trial: arrays(),
    rate: arrays(),
    diagonal: new Float64Array(longest),
    scaled: new Float64Array(longest),
    feedNow: new Float64Array(system.components.length),
    feedNext: new Float64Array(system.components.length),
    fallbacks: 0,
  };
}

/** Sum of an array. */
function sumOf(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum;
}

/** Σh over all components [kg/s]. */
export function circulatingOf(arriving: readonly Float64Array[]): number {
  let sum = 0;
  for (const h of arriving) for (let i = 0; i < h.length; i++) sum += h[i]!;
  return sum;
}

/**
 * One step of dh/dt = (F f − A(Σh) h)/τ by the two-stage Rosenbrock method with γ = 1 − 1/√2, a = γΔt/τ (`recalled`:
 * Verwer et al., SIAM J. Sci. Comput. 20 (1999) 1456):
 *
 * (I + aA) k₁ = Δt r(t, h);  (I + aA) k₂ = Δt r(t + Δt, h + k₁) − 2k₁;  h ← h + 1.5 k₁ + 0.5 k₂
 *
 * Of order two whatever part of the Jacobian is left out; here A is taken at the start of the step. A step that makes any h
 * negative is redone by backward Euler, which cannot.
 *
 * @param system the mill
 * @param state h, overwritten
 * @param time t [s] at the start of the step
 * @param step Δt [s]
 */
export function advance(system: TimeSystem, state: TimeState, time: number, step: number): void {
  const { components, loopTime } = system;
  const { feedNow, feedNext } = state;
  system.fillFeed(time, feedNow);
  system.fillFeed(time + step, feedNext);
  const ratio = step / loopTime;
  const { arriving, first, second, trial, rate } = state;
  system.setRates(circulatingOf(arriving), sumOf(feedNow));
  change(system, arriving, feedNow, ratio, rate);
  const frozen = components.map(({ leaving, breakage }) => ({
    leaving: Float64Array.from(leaving),
    breakage: Float64Array.from(breakage),
  }));
  const solve = (right: readonly Float64Array[], out: readonly Float64Array[]) => {
    components.forEach(({ fragments }, k) => {
      shifted(state, frozen[k]!, GAMMA * ratio);
      const n = out[k]!.length;
      solveTriangular(
        fragments,
        state.diagonal.subarray(0, n),
        state.scaled.subarray(0, n),
        right[k]!,
        out[k]!,
      );
    });
  };
  solve(rate, first);
  combine(trial, arriving, first, 1);
  system.setRates(Math.max(0, circulatingOf(trial)), sumOf(feedNext));
  change(system, trial, feedNext, ratio, rate);
  combine(rate, rate, first, -2);
  solve(rate, second);
  for (let k = 0; k < arriving.length; k++) {
    for (let i = 0; i < arriving[k]!.length; i++) {
      trial[k]![i] = arriving[k]![i]! + 1.5 * first[k]![i]! + 0.5 * second[k]![i]!;
    }
  }
  if (trial.some((h) => h.some((value) => value < 0))) {
    backwardEuler(system, state, frozen, feedNext, ratio);
    return;
  }
  arriving.forEach((h, k) => {
    h.set(trial[k]!);
  });
}

interface Rates {
  readonly leaving: Float64Array;
  readonly breakage: Float64Array;
}

/** Diagonal 1 + aD and coupling aK of I + aA. */
function shifted({ diagonal, scaled }: TimeState, { leaving, breakage }: Rates, a: number): void {
  for (let i = 0; i < leaving.length; i++) {
    diagonal[i] = 1 + a * leaving[i]!;
    scaled[i] = a * breakage[i]!;
  }
}

/** Δt (F f − A h)/τ with D and K as last set. */
function change(
  { components }: TimeSystem,
  arriving: readonly Float64Array[],
  feedRates: Float64Array,
  ratio: number,
  out: readonly Float64Array[],
): void {
  components.forEach(({ fragments, feed, leaving, breakage }, k) => {
    const result = out[k]!;
    const rate = feedRates[k]!;
    applyBalance(fragments, leaving, breakage, arriving[k]!, result);
    for (let i = 0; i < result.length; i++) result[i] = ratio * (rate * feed[i]! - result[i]!);
  });
}

/** out = a + factor·b. */
function combine(
  out: readonly Float64Array[],
  a: readonly Float64Array[],
  b: readonly Float64Array[],
  factor: number,
): void {
  for (let k = 0; k < out.length; k++) {
    for (let i = 0; i < out[k]!.length; i++) out[k]![i] = a[k]![i]! + factor * b[k]![i]!;
  }
}

/** (I + Δt/τ A) h_new = h + Δt/τ F f: first order, never negative. */
export function backwardEuler(
  { components }: TimeSystem,
  state: TimeState,
  rates: readonly Rates[],
  feedRates: Float64Array,
  ratio: number,
): void {
  state.fallbacks++;
  components.forEach(({ fragments, feed }, k) => {
    const h = state.arriving[k]!;
    const right = state.trial[k]!;
    for (let i = 0; i < h.length; i++) right[i] = h[i]! + ratio * feedRates[k]! * feed[i]!;
    shifted(state, rates[k]!, ratio);
    solveTriangular(
      fragments,
      state.diagonal.subarray(0, h.length),
      state.scaled.subarray(0, h.length),
      right,
      h,
    );
  });
}
