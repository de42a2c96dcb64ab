import type { Case } from '../case.ts';
import { conditionsOf } from '../loop/conditions.ts';
import { fillRates } from '../loop/flow.ts';
import { classesPerOctave } from '../loop/grid-needed.ts';
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

/** A mill in time: what the stepper needs, and what changes behind its back. */
export interface MillInTime extends TimeSystem {
  readonly conditions: () => Conditions;
  /** Takes speeds and air of another moment; feed and materials stay. */
  readonly takeSettings: (c: Case) => void;
  /** Takes the casing's temperature [K], which the air feels at once. */
  readonly takeCasing: (warmth: number) => void;
}

/**
 * The mill of a case as a system in time, with everything a circulating flow changes. Heat follows at once, and so do cut
 * and hits; only the casing has a time of its own, and is held over each step (eq. 28).
 *
 * @param c operating point; its feed rate and shares are replaced by F_k(t)
 * @param feedRate F_k(t)
 * @param exchange U_i [W/K]; without one the casing takes its steady loss at once
 */
export function millInTime(c: Case, feedRate: FeedInTime, exchange?: number): MillInTime {
  const kept: Kept = {};
  const coupled = (of: Case): Case =>
    exchange === undefined ? of : { ...of, loop: { ...of.loop, casingLoss: exchange } };
  let now = coupled(c);
  let casingHeat = 0;
  const perOctave = classesPerOctave(now);
  let w = prepare(now, kept, perOctave);
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
        w = prepare({ ...now, settings: { ...now.settings, feedRate: feed } }, kept, perOctave);
        lastFeed = feed;
      }
      w.casingHeat = casingHeat;
      fillRates(w, circulating);
    },
    conditions: () => conditionsOf(w),
    takeSettings: (of) => {
      now = coupled(of);
      lastFeed = Number.NaN;
    },
    takeCasing: (warmth) => {
      casingHeat = (exchange ?? 0) * (warmth - c.air.temperature);
    },
  };
}
