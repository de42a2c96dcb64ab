import type { Measure } from './measure.ts';

/** One quantity in the course of another. */
export interface CoursePanel {
  readonly measure: Measure;
  readonly lines: readonly {
    /** Beside the line where a panel has more than one. */
    readonly name: string;
    readonly y: ArrayLike<number>;
  }[];
  readonly limit?: { readonly at: number; readonly words: string };
  readonly fromZero?: boolean;
}

/** Quantities one below the other over one common axis, such as the time from start. */
export interface CourseInput {
  readonly x: Measure & { readonly values: ArrayLike<number> };
  readonly panels: readonly CoursePanel[];
  /** Moments marked in every panel. */
  readonly events: readonly { readonly at: number; readonly words: string }[];
  readonly caption: string;
}
