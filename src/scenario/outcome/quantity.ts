import type { Case } from '../../model/case.ts';
import type { SteadyState } from '../../model/loop/state.ts';
import type { SizeCurve } from '../../model/psd/curve.ts';
import type { PlantState } from '../../plant/plant-state.ts';

/** A solved operating point with what quantities are read from. */
export interface Solved {
  readonly case: Case;
  readonly state: SteadyState;
  /** Size curve of the whole product. */
  readonly curve: SizeCurve;
  /** What stands around the mill; absent where the scenario has no `plant:`. */
  readonly plant?: PlantState;
}

/** Every quantity a spec, goal, sweep or table can name. */
export interface Quantity {
  /** Name in specs and goals, e.g. `x95`, `motorLoad`. */
  readonly name: string;
  readonly symbol: string;
  /** SI unit (kind of unit for the check of specs). */
  readonly unit: string;
  /** Unit of JSON, columns, tables and axes, as in `units/display.ts`. */
  readonly shownIn: string;
  /** Group and key in `run --json`, e.g. `product` and `x95_um`. */
  readonly group: string;
  readonly key: string;
  /** Column head in sweeps: the JSON key, made unique where two groups share one. */
  readonly column: string;
  readonly meaning: string;
  /** Kind of the argument of quantities such as passing(75 um). */
  readonly argument?: 'size' | 'share';
  /** Value in SI; NaN where it does not exist at this point. */
  readonly of: (solved: Solved, argument?: number) => number;
  /** The same from the feed at choke and the feed rate [kg/s]; only of what is known of a choked point too. */
  readonly ofFeedAtChoke?: (feedAtChoke: number, feedRate: number) => number;
}

/** Group of `run --json` in which quantities of a user's own module stand. */
export const ADDED = 'added';

/** Conditions of rotor, wheel and air at a point. */
export const conditions = ({ state }: Solved) => state.conditions;
/** F [kg/s]. */
export const feedRate = ({ case: c }: Solved): number => c.settings.feedRate;
/** G [kg/s]. */
export const circulating = ({ state }: Solved): number => state.circulating;
