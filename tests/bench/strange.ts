import type { Case } from '../../src/model/case.ts';
import { climb } from '../../src/model/loop/find-steady-root.ts';
import { circulationCurve, solve } from '../../src/model/loop/solve.ts';
import type { SteadyState } from '../../src/model/loop/state.ts';
import { prepare } from '../../src/model/loop/workspace.ts';
import { sizeAt } from '../../src/model/psd/curve.ts';
import { productCurve } from '../../src/scenario/outcome/solved.ts';
import { type Change, changed, PILOT } from '../cases.ts';
import { uniform, wideChange } from '../reference/random-cases.ts';

/** A random setting that stands out, why, and what it came to. */
export interface StrangeCase {
  readonly why: string;
  readonly change: Change;
  readonly status: 'steady' | 'choked';
  readonly reason?: string;
  /** G/F, x50 and x95 [m] of a steady state; feed at which it chokes over feed. */
  readonly passes?: number;
  readonly x50?: number;
  readonly x95?: number;
  readonly toChoke: number;
}

type Candidate = Omit<StrangeCase, 'why'>;

/** Points of the scan that looks for a near miss of a root, over which y has an inner minimum. */
const SCANNED = 40;

/** By how much a case stands out in each respect; the larger the stranger, NaN where it does not apply. */
function measuresOf(c: Case, candidate: Candidate, state: SteadyState | undefined): Record<string, number> {
  const { toChoke, passes = Number.NaN, x50 = Number.NaN, x95 = Number.NaN, reason } = candidate;
  if (!state) {
    return {
      [`nearest to steady, ${reason}`]: toChoke > 1e-9 ? toChoke : Number.NaN,
      [`farthest from steady, ${reason}`]: -toChoke,
    };
  }
  const { leaving, arriving } = state.components[0]!;
  const curve = productCurve(state);
  const { conditions } = state;
  return {
    'nearest to its choke': -Math.abs(Math.log(toChoke)),
    'most passes': passes,
    'fewest passes': -passes,
    'finest product': -x50,
    'coarsest product': x95,
    'widest product': sizeAt(curve, 0.95) / sizeAt(curve, 0.1),
    'narrowest product': -sizeAt(curve, 0.95) / sizeAt(curve, 0.1),
    'hottest outlet': conditions.temperature,
    'most rotor power': conditions.rotorPower,
    'least rotor power': -conditions.rotorPower,
    'steepest cut': steepest(leaving),
    'least that leaves': -Math.min(...leaving.filter((_, i) => arriving[i]! > 1e-12 * state.circulating)),
    'most evaluations': evaluationsOf(c),
    'nearest miss of an earlier root': -nearestMiss(c, state.circulating),
    'heaviest loading': conditions.loading,
    'bluntest wheel': -conditions.sharpness,
    'highest bypass': conditions.bypass,
  };
}

/** Largest fall of what leaves from one class to the next. */
function steepest(leaving: Float64Array): number {
  let most = 0;
  for (let i = 1; i < leaving.length; i++) most = Math.max(most, Math.log(leaving[i - 1]! / leaving[i]!));
  return most;
}

function evaluationsOf(c: Case): number {
  const w = prepare(c);
  climb(w);
  return w.evaluations;
}

/** Smallest inner minimum of y(G) before the root; NaN where y falls all the way. */
function nearestMiss(c: Case, root: number): number {
  const { feedRate } = c.settings;
  const flows = Array.from({ length: SCANNED }, (_, k) => feedRate * (root / feedRate) ** (k / SCANNED));
  const y = circulationCurve(c, flows).map((around, k) => around / flows[k]! - 1);
  let least = Number.NaN;
  for (let k = 1; k + 1 < y.length; k++) {
    if (y[k]! < y[k - 1]! && y[k]! <= y[k + 1]! && !(y[k]! > least)) least = y[k]!;
  }
  return least;
}

/** Numbers with six digits, so that what is kept is short and what is solved is what is kept. */
function rounded(change: Change): Change {
  const digits = (_: string, value: unknown) =>
    typeof value === 'number' ? Number(value.toPrecision(6)) : value;
  return JSON.parse(JSON.stringify(change, digits)) as Change;
}

function candidateOf(change: Change): { candidate: Candidate; c: Case; state?: SteadyState } {
  const c = changed(PILOT, change);
  const state = solve(c);
  const toChoke = state.feedAtChoke / c.settings.feedRate;
  if (state.status === 'choked')
    return { c, candidate: { change, status: 'choked', reason: state.reason, toChoke } };
  const curve = productCurve(state);
  const passes = state.circulating / c.settings.feedRate;
  const sizes = { x50: sizeAt(curve, 0.5), x95: sizeAt(curve, 0.95) };
  return { c, state, candidate: { change, status: 'steady', passes, ...sizes, toChoke } };
}

/** The strangest of many random settings: the first few in every respect, each case once. */
export function strangest(cases: number, wanted: number, seed = 53): StrangeCase[] {
  const random = uniform(seed);
  const lists = new Map<string, { strange: number; candidate: Candidate }[]>();
  for (let i = 0; i < cases; i++) {
    const { candidate, c, state } = candidateOf(rounded(wideChange(random)));
    for (const [why, strange] of Object.entries(measuresOf(c, candidate, state))) {
      if (!Number.isFinite(strange)) continue;
      const list = lists.get(why) ?? [];
      lists.set(why, list);
      if (list.length >= wanted && strange <= list.at(-1)!.strange) continue;
      list.push({ strange, candidate });
      list.sort((a, b) => b.strange - a.strange);
      if (list.length > wanted) list.pop();
    }
  }
  return inTurn(lists, wanted);
}

/** The first of every list, then the second of every list, and so on, until so many are found. */
function inTurn(
  lists: ReadonlyMap<string, readonly { candidate: Candidate }[]>,
  wanted: number,
): StrangeCase[] {
  const taken = new Map<Candidate, StrangeCase>();
  for (let place = 0; place < wanted && taken.size < wanted; place++) {
    for (const [why, list] of lists) {
      const candidate = list[place]?.candidate;
      if (candidate && !taken.has(candidate) && taken.size < wanted)
        taken.set(candidate, { why, ...candidate });
    }
  }
  return [...taken.values()];
}
