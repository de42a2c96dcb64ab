import type { DragShape } from '../drag.ts';

/** What the cut size depends on; SI. */
export interface CutConditions {
  readonly radialVelocity: number;
  readonly swirlVelocity: number;
  /** Wheel radius R [m]. */
  readonly radius: number;
  readonly particleDensity: number;
  readonly airDensity: number;
  readonly viscosity: number;
  /** Mean free path [m]; 0 switches the slip correction off. */
  readonly meanFreePath: number;
}

/**
 * Cut size in the Stokes limit, √(18 µ v_r R/((ρ_p − ρ) v_φ²)) (eq. 18).
 *
 * @returns [m]
 * @example stokesCutSize({radialVelocity: 4.42097, swirlVelocity: 31.4159, radius: 0.1, particleDensity: 2700,
 *   airDensity: 1.204, viscosity: 1.81e-5, meanFreePath: 0}) // 7.3536e-6
 */
export function stokesCutSize(c: CutConditions): number {
  return Math.sqrt(
    (18 * c.viscosity * c.radialVelocity * c.radius) /
      ((c.particleDensity - c.airDensity) * c.swirlVelocity * c.swirlVelocity),
  );
}

/**
 * A last change of ln x this small leaves an error of its square times half the residual's curvature (< 0.2): none that
 * double precision holds.
 */
const CONVERGED = 3e-8;
const MOST_STEPS = 60;
/** Within this of their centre exponential and logarithm are taken by their series, exact to the last digit. */
const CLOSE = 1e-3;
/** Size over mean free path beyond which the exponential term of the slip correction changes no digit. */
const NO_SLIP_DECAY = 80;

/** e^u, by its series for small u. */
function expNear(u: number): number {
  return Math.abs(u) < CLOSE ? 1 + u * (1 + u * (1 / 2 + u * (1 / 6 + u * (1 / 24 + u / 120)))) : Math.exp(u);
}

/** ln r, by its series about 1. */
function logNear(r: number): number {
  const d = r - 1;
  return Math.abs(d) < CLOSE
    ? d * (1 - d * (1 / 2 - d * (1 / 3 - d * (1 / 4 - d * (1 / 5 - d / 6)))))
    : Math.log(r);
}

/**
 * Cut size x_c where drag of the inflow balances the centrifugal force at the rim (eq. 18): the root of
 * x = ¾ C_D(Re) ρ v_r² R/((ρ_p − ρ) v_φ² C_c(x)), Re = ρ v_r x/µ, by Newton in ln x, where the residual is increasing
 * and nearly straight, so that it converges from any start. C_D by Haider & Levenspiel 1989, C_c by Davies 1945
 * (`published`).
 *
 * @param c conditions at the rim
 * @param shape coefficients of the drag law for the particle's sphericity
 * @param start first guess [m], e.g. the Stokes cut
 * @returns x_c [m] before the cut factor
 */
export function cutSize(c: CutConditions, shape: DragShape, start: number): number {
  const scale =
    (0.75 * c.airDensity * c.radialVelocity * c.radialVelocity * c.radius) /
    ((c.particleDensity - c.airDensity) * c.swirlVelocity * c.swirlVelocity);
  const reynoldsPerSize = (c.airDensity * c.radialVelocity) / c.viscosity;
  const path = c.meanFreePath;
  let x = start;
  let power = shape.a * (reynoldsPerSize * x) ** shape.b;
  for (let step = 0; step < MOST_STEPS; step++) {
    const re = reynoldsPerSize * x;
    const viscous = (24 / re) * (1 + power);
    const denominator = re + shape.d;
    const inertial = (shape.c * re) / denominator;
    const drag = viscous + inertial;
    const dragSlope =
      -viscous + (24 / re) * power * shape.b + (shape.c * re * shape.d) / (denominator * denominator);
    let slip = 1;
    let slipSlope = 0;
    if (path > 0) {
      const knudsen = (2 * path) / x;
      const decay = x < NO_SLIP_DECAY * path ? 0.4 * Math.exp(-1.1 / knudsen) : 0;
      slip = 1 + knudsen * (1.257 + decay);
      slipSlope = -knudsen * (1.257 + decay) - 1.1 * decay;
    }
    const residual = logNear((x * slip) / (scale * drag));
    const change = residual / (1 + slipSlope / slip - dragSlope / drag);
    x *= expNear(-change);
    power *= expNear(-shape.b * change);
    if (!(Math.abs(change) >= CONVERGED)) break;
  }
  return x;
}
