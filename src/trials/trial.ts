import type { MeasuredSample } from '../scenario/measurement/measured-sample.ts';
import type { Scenario } from '../scenario/scenario.ts';

/** One run on the floor with what was measured; SI. */
export interface Trial {
  readonly name: string;
  /** Scenario at the settings of this run. */
  readonly scenario: Scenario;
  /** Product's size curve, percentiles or residues; absent where none was taken. */
  readonly sizes?: MeasuredSample;
  /** Repeats the sizes are a mean of. */
  readonly repeats?: number;
  /** Rotor power [W] and its relative standard error. */
  readonly power?: { readonly value: number; readonly error: number };
  /** Rotor power without feed at this speed [W]. */
  readonly idlePower?: number;
  /** [K]; checks only. */
  readonly outletTemperature?: number;
}

/** Standard errors of what a trial measures (relative); `assumed` unless the log states them. */
export interface MeasurementErrors {
  /** Laser: of x50 and of x10, x90 (ISO 13320 repeatability limits; doubled below 10 µm). */
  readonly laser: { readonly median: number; readonly tails: number };
  /** Sieve: of an opening, and of a weighed share of the whole. */
  readonly sieve: { readonly opening: number; readonly share: number };
  /** Shaft power by drive torque or kW meter. */
  readonly power: number;
}

export const MEASUREMENT_ERRORS: MeasurementErrors = {
  laser: { median: 0.03, tails: 0.05 },
  sieve: { opening: 0.03, share: 0.003 },
  power: 0.03,
};
