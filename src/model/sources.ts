/** How well a value is known; shown to the user wherever the value appears. */
export type Label =
  | 'published'
  | 'recalled'
  | 'derived'
  | 'assumed'
  | 'practice'
  | 'given'
  | 'measured'
  | 'fitted';

/** Where a value comes from: its evidence label and the source in words. */
export interface Evidence {
  readonly label: Label;
  readonly source: string;
  /** Relative standard error of the value, where it is known. */
  readonly spread?: number;
}

/** A coefficient with everything a reader needs to judge it. `value` is in `unit`. */
export interface Sourced extends Evidence {
  readonly value: number;
  readonly unit: string;
}

/** Bibliography: one key a work, cited by laws, defaults and docstrings. */
export const SOURCES = {
  vogelPeukert2003: 'Vogel & Peukert, Powder Technol. 129 (2003) 101',
  vogelPeukert2005: 'Vogel & Peukert, Chem. Eng. Sci. 60 (2005) 5164',
  austinShojiLuckie1976: 'Austin, Shoji & Luckie, Powder Technol. 14 (1976) 71',
  choAustin2003: 'Cho & Austin, Powder Technol. 132 (2003) 161',
  austinKlimpelLuckie1984: 'Austin, Klimpel & Luckie, Process Engineering of Size Reduction (1984)',
  broadbentCallcott1956: 'Broadbent & Callcott, Phil. Trans. R. Soc. A 249 (1956) 99',
  langmuirBlodgett1946: 'Langmuir & Blodgett, US Army Air Forces Tech. Rep. 5418 (1946)',
  wiesner1967: 'Wiesner, J. Eng. Power 89 (1967) 558',
  haiderLevenspiel1989: 'Haider & Levenspiel, Powder Technol. 58 (1989) 63',
  davies1945: 'Davies, Proc. Phys. Soc. 57 (1945) 259',
  molerusHoffmann1969: 'Molerus & Hoffmann, Chem. Ing. Tech. 41 (1969) 340',
  lynchRao1975: 'Lynch & Rao, Proc. 11th Int. Mineral Processing Congress (1975)',
  hylandWexler1983: 'Hyland & Wexler, ASHRAE Trans. 89 (1983) 500',
} as const;

/**
 * Where an equation of the mill is explained, as a reader is shown it.
 *
 * @example theModel('12') // 'the model, eq. 12 (notebooks/the-model.md#eq-12)'
 */
export function theModel(equation: string): string {
  return `the model, eq. ${equation} (notebooks/the-model.md#eq-${equation.toLowerCase()})`;
}
