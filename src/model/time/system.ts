import type { Case } from '../case.ts';
import { conditionsOf } from '../loop/conditions.ts';
import { fillRates } from '../loop/flow.ts';
import type { Fragments } from '../loop/prepared-materials.ts';
import type { Conditions } from '../loop/state.ts';
import { type Kept, prepare } from '../loop/workspace.ts';

/** One component's share of the balance in time. */
export interface TimeComponent {
  readonly fragments: Fragments;
  /** f: feed by class for a feed rate of 1 of this component. */
  readonly feed: Float64Array;
  /** D and K by class, as `setRates` left them. */
  readonly leaving: Float64Array;
  readonly breakage: Float64Array;
}

/** Feed rates of the components against time [kg/s], each never negative. */
export type FeedInTime = (time: number, component: number) => number;

/** What the stepper needs of a mill: dh/dt = (F(t) f − A(Σh) h)/τ_loop (eq. 27). */
export interface TimeSystem {
  readonly components: readonly TimeComponent[];
  /** τ_loop [s]. */
  readonly loopTime: number;
  /** F_k(t): feed rate of every component [kg/s], into a given array. */
  readonly fillFeed: (time: number, rates: Float64Array) => void;
  /** Fills D and K of every component for a circulating flow [kg/s] and a feed rate [kg/s]. */
  readonly setRates: (circulating: number, feedRate: number) => void;
}

/**
 * The mill of a case as a system in time, with everything a circulating flow changes; heat follows at once (the casing's
 * own time is a lag of what is read, see `run`).
 *
 * @param c operating point; its feed rate and shares are replaced by F_k(t)
 * @param feedRate F_k(t)
 */
export function millInTime(
  c: Case,
  feedRate: FeedInTime,
): TimeSystem & { readonly conditions: () => Conditions } {
  const kept: Kept = {};
  let w = prepare(c, kept);
  const shapes = w.chamber.components.map(({ feed }) => feed.slice());
  let lastFeed = c.settings.feedRate;
  return {
    components: w.components.map(({ fragments, leaving, breakage }, k) => ({
      fragments,
      feed: shapes[k]!,
      leaving,
      breakage,
    })),
    loopTime: c.loop.loopTime,
    fillFeed: (time, rates) => {
      for (let k = 0; k < rates.length; k++) rates[k] = feedRate(time, k);
    },
    setRates: (circulating, feed) => {
      if (feed !== lastFeed) {
        w = prepare({ ...c, settings: { ...c.settings, feedRate: feed } }, kept);
        lastFeed = feed;
      }
      fillRates(w, circulating);
    },
    conditions: () => conditionsOf(w),
  };
}
