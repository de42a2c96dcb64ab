import type { Evidence } from './sources.ts';

/**
 * One named number of the model as a user meets it: the scenario schema, the help text, the report's table of
 * assumptions and the nomenclature all follow from these records.
 */
export interface Parameter {
  /** Key in the scenario file. */
  readonly name: string;
  /** Symbol of physics notation, e.g. `f_mat`. */
  readonly symbol: string;
  /** SI unit the model computes in; `1` for a pure number, `rad` for an angle. */
  readonly unit: string;
  /** Unit a user reads and writes by habit, e.g. `mm`; any unit of the same kind is accepted. */
  readonly shownIn: string;
  readonly meaning: string;
  /** Allowed range in SI; `exclusive` ends are not allowed themselves. */
  readonly minimum?: number;
  readonly exclusiveMinimum?: number;
  readonly maximum?: number;
  readonly exclusiveMaximum?: number;
  readonly integer?: boolean;
  /** Value used when the file is silent (SI), with its evidence; a parameter without one must be given. */
  readonly preset?: Evidence & { readonly value: number };
  /** A plausible value (SI) for examples and tests, where there is no preset. */
  readonly typical?: number;
  /** Left out without a preset it stays absent. */
  readonly optional?: boolean;
  /**
   * Range values are found in by common practice (from memory, SI); a value outside is questioned. `of` as in `prior`. A
   * parameter without one is held to its prior, widened threefold.
   */
  readonly usual?: { readonly low: number; readonly high: number; readonly of?: string };
  /**
   * Wide range that stands for `unknown` (SI); a parameter without one must be known. `of` names a neighbour in the same
   * block: low and high are then multiples of it.
   */
  readonly prior?: { readonly low: number; readonly high: number; readonly of?: string };
  /** What is believed of a given value before any trial (eq. K1): what calibrates the number; one without is held as given. */
  readonly belief?: Belief;
}

/** How a belief is laid out: normal in ln(x + offset), in ln((x − low)/(high − x)), or in x over a unit. */
export type Scale =
  | { readonly kind: 'log'; readonly offset: number }
  | { readonly kind: 'logit'; readonly low: number; readonly high: number }
  | { readonly kind: 'linear'; readonly unit: number };

/** A normal belief along a scale, about the value the scenario gives. */
export interface Belief {
  /** Standard deviation along the scale; of the logarithm on a log scale. */
  readonly spread: number;
  readonly scale: Scale;
  /** A typed value at an end of a logit's limits is believed so near to it, as a share of their distance; 0: it is exact. */
  readonly edge?: number;
  /** Limits closer than those of the schema (SI): beyond them a law's shape runs out. */
  readonly within?: readonly [low: number, high: number];
}

/** A belief about the logarithm of a number. */
export const believed = (spread: number, within?: readonly [number, number]): Belief => ({
  spread,
  scale: { kind: 'log', offset: 0 },
  ...(within ? { within } : {}),
});

/** A belief about the logit of a number between two limits. */
export const believedBetween = (low: number, high: number, spread: number, edge = 0): Belief => ({
  spread,
  scale: { kind: 'logit', low, high },
  edge,
});

/** Rows of a user's table, ascending in the first column, SI. */
export type Table = readonly (readonly [number, number])[];

/** A chosen law with its parameters (SI) as they stand in the scenario: `{ law: 'impact', friability: 0.9, … }`. */
export interface LawChoice {
  readonly law: string;
  readonly [parameter: string]: number | string | Table | undefined;
}

/** Column headings of a law that is given as a table of points. */
export interface TableShape {
  readonly columns: readonly [Parameter, Parameter];
  /** Plausible points (SI) for examples and tests. */
  readonly typical: Table;
}

/** What every law of every registry carries besides its function. */
export interface LawHeader extends Evidence {
  /** Value of `law:` in the scenario. */
  readonly name: string;
  /** One sentence for help texts. */
  readonly summary: string;
  readonly parameters: readonly Parameter[];
  /** Present on laws whose `points:` the user supplies. */
  readonly table?: TableShape;
}

/** A condition outside a law's validity: a warning in the outcome, never an exception. */
export interface Warning {
  readonly code: string;
  readonly message: string;
}
