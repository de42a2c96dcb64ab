/** What a column of a sweep holds. */
type ColumnRole = 'factor' | 'status' | 'reason' | 'setting' | 'quantity' | 'margin' | 'meetsSpec';

/** One column of a sweep, as stored beside the rows so that a reader needs nothing else. */
export interface Column {
  /** Head, with the unit as its tail: `x95_um`, `wheel_geometry_height_mm`. */
  readonly name: string;
  readonly role: ColumnRole;
  /** What it shows: a factor's path, a quantity's name, the text of a spec line. */
  readonly of: string;
  /** Unit of the values, as `units/display.ts` names it; `1` for a pure number, empty for names. */
  readonly unit: string;
  readonly symbol: string;
  readonly meaning: string;
  /** Present on columns of names: a value is the place of its name here. */
  readonly names?: readonly string[];
}

/**
 * Results of a run of points, column by column: value of column c at point first + r is values[c·count + r], in the
 * column's unit; NaN where there is none. One buffer, so that a worker hands it over without a copy.
 */
export interface Block {
  readonly first: number;
  readonly count: number;
  readonly values: Float64Array;
  /** Undersize at the study's curve sizes, point by point; NaN for choked points. Absent where none are kept. */
  readonly curves?: Float64Array;
}

/** Points first … first + count − 1 of a study. */
export interface Range {
  readonly first: number;
  readonly count: number;
}

/** Evaluates a run of points: the same result wherever and in whatever order the runs are made. */
export type Evaluate = (range: Range) => Block;
