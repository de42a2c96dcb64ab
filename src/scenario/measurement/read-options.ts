import type { Fault } from '../errors.ts';
import type { DecimalSign } from './cell-number.ts';
import type { Encoding } from './decode.ts';
import type { Place } from './heading.ts';
import type { Basis, Method, SizeUnit } from './measured-sample.ts';
import type { SieveSeries } from './sieves.ts';
import type { Separator } from './split-rows.ts';

/** What the values are, where the file does not say. */
export type ValueKind = 'undersize' | 'oversize' | 'in-class' | 'retained-mass';

/** What a user can state about a file; whatever is ambiguous is asked for by one of these, never guessed. */
export interface ReadOptions {
  readonly encoding?: Encoding;
  readonly separator?: Separator;
  readonly decimal?: DecimalSign;
  /** Headings in the order of the columns, e.g. `size um`, `undersize %`; replaces the file's own. */
  readonly columns?: readonly string[];
  readonly unit?: SizeUnit;
  readonly series?: SieveSeries;
  readonly kind?: ValueKind;
  readonly values?: 'percent' | 'fraction';
  readonly sizes?: Place;
  readonly basis?: Basis;
  readonly method?: Method;
  /** Where mass lies that the classes do not sum to. */
  readonly missing?: 'fine' | 'coarse' | 'spread';
  /** Mass put on the sieves, in the unit of the masses. */
  readonly total?: number;
}

/** Values each option may take, for help texts and messages. */
export const CHOICES = {
  encoding: ['utf-8', 'utf-16le', 'utf-16be', 'latin-1'],
  separator: ['tab', 'semicolon', 'comma', 'bar', 'spaces'],
  decimal: ['point', 'comma'],
  unit: ['nm', 'um', 'mm', 'm', 'mesh'],
  series: ['astm-e11', 'bs-410', 'iso-3310-1'],
  kind: ['undersize', 'oversize', 'in-class', 'retained-mass'],
  values: ['percent', 'fraction'],
  sizes: ['upper', 'lower', 'middle'],
  basis: ['volume', 'mass', 'number'],
  method: ['laser', 'sieve'],
  missing: ['fine', 'coarse', 'spread'],
} as const;

/** Something the file leaves open, and the option that closes it. */
export function question(place: string, what: string, option: keyof ReadOptions): Fault {
  const choices = option in CHOICES ? ` ${CHOICES[option as keyof typeof CHOICES].join(' | ')}` : ' …';
  return { place, message: `${what}; state it with --${option}${choices}` };
}
