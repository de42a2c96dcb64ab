import type { Case } from '../case.ts';
import { conditionsOf } from './conditions.ts';
import { chokeMessage, chokeReason, limitingFeed } from './feed-at-choke.ts';
import { climb } from './find-steady-root.ts';
import { fillState, flowAround } from './flow.ts';
import type { ChokedState, ComponentState, State, SteadyState } from './state.ts';
import { type Kept, prepare, type Workspace } from './workspace.ts';

export interface SolveOptions {
  /** Parts and arrays kept from the last case; the state returned aliases them until the next solve. */
  readonly kept?: Kept;
  /** Whether to look past the root for the feed at which it chokes; default true. */
  readonly choke?: boolean;
}

/**
 * Steady state of mill, wheel and loop, reached from empty (eq. 26b).
 *
 * [D + (I − b) K] h = F f with G = Σh = Φ(G), the first downward crossing from G = F.
 *
 * @param c the operating point, SI
 * @returns a steady state, or a choked one with its reason; never throws on a valid case
 * @example solve(case).status // 'steady'
 */
export function solve(c: Case, options: SolveOptions = {}): State {
  const w = prepare(c, options.kept);
  const found = climb(w);
  const looksOn = options.choke !== false;
  if (found.kind === 'none') return choked(w, looksOn);
  const feedAtChoke = looksOn ? limitingFeed(w, found.circulating) : Number.NaN;
  if (looksOn || !found.filled) fillState(w, found.circulating);
  return steady(w, found.circulating, feedAtChoke);
}

function choked(w: Workspace, looksOn: boolean): ChokedState {
  const feedAtChoke = looksOn ? limitingFeed(w, w.fixed.feedRate) : Number.NaN;
  const reason = chokeReason(w);
  return {
    status: 'choked',
    grid: w.chamber.grid,
    reason,
    message: chokeMessage(reason, w),
    feedAtChoke,
    conditions: conditionsOf(w),
  };
}

function steady(w: Workspace, circulating: number, feedAtChoke: number): SteadyState {
  return {
    status: 'steady',
    grid: w.chamber.grid,
    circulating,
    conditions: conditionsOf(w),
    components: w.components.map(componentState),
    feedAtChoke,
  };
}

function componentState(work: Workspace['components'][number]): ComponentState {
  const { feed, arriving, leaving, breakage, product, cutSize, stokesCutSize } = work;
  for (let i = 0; i < product.length; i++) product[i] = leaving[i]! * arriving[i]!;
  return { cutSize, stokesCutSize, feed, arriving, product, leaving, breakage };
}

/** Φ(G) over given circulating flows, with the same F: the curve of what comes round against what went round. */
export function circulationCurve(c: Case, circulating: readonly number[]): number[] {
  const w = prepare(c);
  return circulating.map((g) => flowAround(w, g));
}
