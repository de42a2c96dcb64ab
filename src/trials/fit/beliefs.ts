import { LOG, type Scale } from './coefficient.ts';

/** What is believed of a number before any trial: standard deviation along its scale. */
export interface Belief {
  readonly spread: number;
  readonly scale: Scale;
  /** A typed value at an end of a logit's limits is believed so near to it, as a share of their distance; 0: it is exact. */
  readonly edge?: number;
}

const log = (spread: number): Belief => ({ spread, scale: LOG });
const between = (low: number, high: number, spread: number, edge: number): Belief => ({
  spread,
  scale: { kind: 'logit', low, high },
  edge,
});

/** Beliefs about the machine (eq. K1, `assumed`). */
export const ROTOR_BELIEFS: Readonly<Record<string, Belief>> = {
  powerFactor: log(0.3),
  crowdingLoad: log(0.4),
  returnRatio: log(0.5),
  velocityRatio: between(0.5, 1, 1, 0.05),
  idleNumber: log(0.2),
};
/** Of each wheel, its own. */
export const WHEEL_BELIEFS: Readonly<Record<string, Belief>> = {
  cutFactor: log(0.25),
  sharpness: log(0.2),
};
/** Of all wheels together. */
export const SHARED_BELIEFS: Readonly<Record<string, Belief>> = {
  bypass: between(0, 1, 0.5, 0),
  sharpnessLoading: log(0.5),
  bypassLoading: log(0.5),
  leanFactor: between(0, 1, 1, 0.05),
};
/** Of the laws of breakage, by law and parameter. */
export const LAW_BELIEFS: Readonly<Record<string, Readonly<Record<string, Belief>>>> = {
  'selection impact': { friability: log(1), threshold: log(1) },
  'selection power': { rate: log(1) },
  'selection log-energy': { energy: log(1) },
  'fragments impact': { exponent: log(0.3), finesScale: log(0.4) },
  'fragments power': { exponent: log(0.3) },
  'fragments two-power': { fineExponent: log(0.3) },
};
