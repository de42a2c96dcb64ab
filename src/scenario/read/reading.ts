import type { Parameter } from '../../model/parameters.ts';
import type { Value } from '../units/parse-quantity.ts';
import type { Problem } from '../units/unit-problem.ts';

/** How one number may stand in the file. */
export interface Reading {
  /** May be a range or `unknown`; neighbours give the dimensions that priors are multiples of. */
  readonly uncertain?: { readonly neighbours: Readonly<Record<string, number>> };
  /** Reads the text where a number with its unit is not all that may stand, as for speeds. */
  readonly parse?: (text: string, parameter: Parameter) => Value | Problem;
}
