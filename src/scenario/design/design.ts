import type { Factor } from '../scenario.ts';

/**
 * Whether each factor changes anything at a combination of names: the height of a wheel that is not in use does not.
 * Only the coordinates of named factors are looked at.
 */
export type Activity = (coordinates: Float64Array) => readonly boolean[];

/** What a design is made from. */
export interface DesignSetup {
  readonly factors: readonly Factor[];
  /** Points asked for, where the design leaves the number open. */
  readonly points?: number;
  readonly seed: number;
  /** Coordinates of the scenario as it stands; NaN where its name is not among a factor's levels. */
  readonly base: Float64Array;
  readonly activity: Activity;
}

/**
 * A design ready to give points. The coordinate of a factor is its value (SI) or, for names, the index of the level;
 * NaN where the factor changes nothing.
 */
export interface CompiledDesign {
  readonly size: number;
  /** Writes the coordinates of point `index`, 0…size−1, into `coordinates`; depends on nothing but the index. */
  readonly fill: (index: number, coordinates: Float64Array) => void;
}

/** A way to choose the points of a sweep: one file, one line in `designs.ts`. */
export interface Design {
  /** Value of `sweep.design` in the scenario. */
  readonly name: string;
  /** One sentence for help texts. */
  readonly summary: string;
  /** Does the number of points follow from the factors, or is it asked for? */
  readonly counts: 'by factors' | 'by points';
  /** More points never move the earlier ones, so that a store can be extended. */
  readonly extends: boolean;
  /** Throws InputError with every fault of the factors for this design. */
  readonly compile: (setup: DesignSetup) => CompiledDesign;
}

/** Points where a file gives no number. */
export const DEFAULT_POINTS = 1024;
