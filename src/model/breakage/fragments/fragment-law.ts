import type { LawChoice, LawHeader } from '../../parameters.ts';

/** One product term u(x)·w(y) of a separable fragment law. */
export interface FragmentTerm {
  /** u at size x [m]. */
  readonly ofFragment: (size: number) => number;
  /** w at parent size y [m]. */
  readonly ofParent: (size: number) => number;
}

/** Where the fragments of a broken particle go: a formula for the breakage function B (eq. 11 to 15). */
export interface FragmentLaw extends LawHeader {
  /** B(x,y): mass fraction of a broken particle of size y [m] finer than x ≤ y [m]; B(y,y) = 1. */
  readonly undersize: (parameters: LawChoice, size: number, parent: number) => number;
  /** B as a sum of products, for laws that have that form: the loop is then solved in O(n). */
  readonly terms?: (parameters: LawChoice) => readonly FragmentTerm[];
  readonly outside: (parameters: LawChoice) => readonly string[];
}
