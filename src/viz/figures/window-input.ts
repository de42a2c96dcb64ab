import type { Measure } from '../../answers/measure.ts';
import type { OperatingWindow } from '../../search/window/window.ts';

/** A mark on the plane. */
export interface Mark {
  /** `away`: a run measured at settings off the plane; its name says what differs. */
  readonly kind: 'best' | 'file' | 'pinned' | 'trial' | 'away' | 'sample';
  readonly x: number;
  readonly y: number;
  readonly name: string;
}

/** Everything in the units shown. */
export interface WindowInput {
  readonly window: OperatingWindow;
  readonly x: Measure;
  readonly y: Measure;
  readonly quantity: Measure;
  /** Words for each limit: `95 % below 75 µm`. */
  readonly words: Readonly<Record<string, string>>;
  /** Why the choked part chokes, in words. */
  readonly chokedBecause: string;
  readonly marks: readonly Mark[];
}
