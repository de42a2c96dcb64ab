import type { Table } from '../table.ts';

/** A box to write into with a pen. */
export const BLANK = '______';

/** What a run sheet says, whatever it is written on; texts are ready to be read. */
export interface RunSheet {
  readonly title: string;
  /** What the trials are for, what they take and why there are no more. */
  readonly headline: readonly string[];
  readonly asked: string;
  /** Settings the question is about. */
  readonly at: string;
  /** Undefined where no trial is planned. */
  readonly plan?: RunPlan;
  readonly cautions: readonly string[];
}

export interface RunPlan {
  /** Names of boxes at the head, filled in by hand. */
  readonly boxes: readonly string[];
  readonly airFlow: string;
  /** Rotor speeds at which the empty mill's power is read [rpm]. */
  readonly emptyAt: readonly string[];
  readonly settings: Table;
  /** Columns to be filled in by hand, a row a run. */
  readonly readings: Table;
  /** What each run is expected to determine. */
  readonly settles: readonly string[];
  readonly stopRules: readonly string[];
}
