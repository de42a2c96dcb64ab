import type { LawChoice, LawHeader } from '../../parameters.ts';

/** What one hit brings. */
export interface Hit {
  /** v_imp [m/s]. */
  readonly speed: number;
  /** W = ε v_imp²/2 [J/kg]. */
  readonly energy: number;
}

/** Probability that one hit breaks a particle: a formula for the selection function S (eq. 7 to 10). */
export interface SelectionLaw extends LawHeader {
  /** S(x) in 0…1 for size x [m] under one hit. */
  readonly probability: (parameters: LawChoice, size: number, hit: Hit) => number;
  /** Size [m] below which a hit breaks nothing; 0 where the law knows no grind limit. */
  readonly grindLimit: (parameters: LawChoice, hit: Hit) => number;
  /** Reasons why this use is outside what the source covers; empty when inside. */
  readonly outside: (parameters: LawChoice, hit: Hit) => readonly string[];
}
