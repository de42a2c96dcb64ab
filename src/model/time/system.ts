import type { Case } from '../case.ts';
import type { Fragments } from '../loop/chamber.ts';
import { fillRates } from '../loop/flow.ts';
import type { Conditions } from '../loop/state.ts';
import { type Kept, prepare } from '../loop/workspace.ts';

/** One component's share of the balance in time. */
export interface TimeComponent {
  readonly fragments: Fragments;
  /** f·share: feed by class for a feed rate of 1. */
  readonly feed: Float64Array;
  /** D and K by class, as `setRates` left them. */
  readonly leaving: Float64Array;
  readonly breakage: Float64Array;
}

/** What the stepper needs of a mill: dh/dt = (F(t) f − A(Σh) h)/τ_loop (eq. 27). */
export interface TimeSystem {
  readonly components: readonly TimeComponent[];
  /** τ_loop [s]. */
  readonly loopTime: number;
  /** F(t) [kg/s]. */
  readonly feedRate: (time: number) => number;
  /** Fills D and K of every component for a circulating flow [kg/s] and a feed rate [kg/s]. */
  readonly setRates: (circulating: number, feedRate: number) => void;
}

/**
 * The mill of a case as a system in time, with everything a circulating flow changes; heat follows at once (the casing's
 * own time is a lag of what is read, see `run`).
 *
 * @param c operating point; its feed rate is replaced by F(t)
 * @param feedRate F(t) [kg/s], never negative
 */
export function millInTime(
  c: Case,
  feedRate: (time: number) => number,
): TimeSystem & { readonly conditions: () => Conditions } {
  const kept: Kept = {};
  let w = prepare(c, kept);
  const shapes = w.chamber.components.map(({ component, feed }) =>
    feed.map((share) => component.share * share),
  );
  let lastFeed = c.settings.feedRate;
  return {
    components: w.components.map(({ fragments, leaving, breakage }, k) => ({
      fragments,
      feed: shapes[k]!,
      leaving,
      breakage,
    })),
    loopTime: c.loop.loopTime,
    feedRate,
    setRates: (circulating, feed) => {
      if (feed !== lastFeed) {
        w = prepare({ ...c, settings: { ...c.settings, feedRate: feed } }, kept);
        lastFeed = feed;
      }
      fillRates(w, circulating);
    },
    conditions: () => w.now,
  };
}
