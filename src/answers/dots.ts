import type { Measure } from './measure.ts';

/** A value with the range it may lie in. */
export interface Dot {
  readonly value: number;
  /** Ends of the range; `Infinity` where it has no end on that side. */
  readonly low?: number;
  readonly high?: number;
  /** Words beside the dot; its number where left out. */
  readonly words?: string;
}

/** One quantity of all rows. */
export interface DotsPanel {
  readonly measure: Measure;
  /** One a row; undefined where the row has no value. */
  readonly dots: readonly (Dot | undefined)[];
  /** A second value of each row, drawn open: measured beside the model, before beside after. */
  readonly others?: readonly (Dot | undefined)[];
  readonly limit?: { readonly at: number; readonly words: string };
  readonly fromZero?: boolean;
  readonly scale?: 'linear' | 'log';
}

/** Rows told apart by name, one or more quantities side by side; for values that are read against each other. */
export interface DotsInput {
  readonly rows: readonly string[];
  readonly panels: readonly DotsPanel[];
  /** Whether the rows are places along a path, so that a line joins them. */
  readonly joined?: boolean;
  readonly caption: string;
}
