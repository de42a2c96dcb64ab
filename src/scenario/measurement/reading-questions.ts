import type { Fault } from '../errors.ts';
import type { DecimalSign } from './cell-number.ts';
import type { Encoding } from './decode.ts';
import type { Place } from './heading.ts';
import type { Basis, Method, SizeUnit } from './measured-sample.ts';
import type { SieveSeries } from './mesh-openings.ts';
import type { Separator } from './split-rows.ts';

/** What the values are, where the file does not say; a density is one per size, a log-density one per logarithm of it. */
export type ValueKind = 'undersize' | 'oversize' | 'in-class' | 'retained-mass' | 'density' | 'log-density';

/** What a user can state about a file; whatever is ambiguous must be stated by one of these; it is never guessed. */
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
  kind: ['undersize', 'oversize', 'in-class', 'retained-mass', 'density', 'log-density'],
  values: ['percent', 'fraction'],
  sizes: ['upper', 'lower', 'middle'],
  basis: ['volume', 'mass', 'number'],
  method: ['laser', 'sieve'],
  missing: ['fine', 'coarse', 'spread'],
} as const;

/** Something a file leaves open, in words, and the option that closes it. */
export interface Question extends Fault {
  readonly option: keyof ReadOptions;
}

/** Something the file leaves open, and the option that closes it. */
export function question(place: string, what: string, option: keyof ReadOptions): Question {
  return { place, message: what, option };
}

/**
 * How options are stated where the file is named: on a command line, as keys of a block such as `feed:`, or as choices a page
 * shows beside the question.
 */
export type StatedAs = 'options' | 'keys' | 'choices';

const PATTERN: Readonly<Record<Exclude<StatedAs, 'choices'>, (option: string, choices: string) => string>> = {
  options: (option, choices) => `--${option} ${choices}`,
  keys: (option, choices) => `${option}: ${choices}`,
};

/**
 * Faults as they are shown: each question with the option that answers it, and where there are several one line with all
 * of them to copy.
 */
export function asked(faults: readonly (Fault | Question)[], as: StatedAs): (Fault | Question)[] {
  const once = [...new Map(faults.map((fault) => [`${fault.place} ${fault.message}`, fault])).values()];
  if (as === 'choices') return once;
  const options = [...new Set(once.flatMap((fault) => ('option' in fault ? [fault.option] : [])))];
  const shown = once.map((fault) => {
    if (!('option' in fault)) return fault;
    const { option } = fault;
    return {
      ...fault,
      message: `${fault.message}; state it with ${PATTERN[as](option, choicesOf(option, ' | '))}`,
    };
  });
  if (options.length < 2) return shown;
  const line = options
    .map((option) => PATTERN[as](option, choicesOf(option, '|')))
    .join(as === 'keys' ? ', ' : ' ');
  return [...shown, { place: once[0]!.place, message: `state all of it at once, one of each: ${line}` }];
}

function choicesOf(option: keyof ReadOptions, between: string): string {
  return option in CHOICES ? CHOICES[option as keyof typeof CHOICES].join(between) : '…';
}
