import { bracket, middleOf } from './numerics/root.ts';
/** Coefficients of the drag law for one sphericity: C_D = 24/Re (1 + a Re^b) + c/(1 + d/Re). */
export interface DragShape {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
}

/**
 * Haider–Levenspiel coefficients from the sphericity (eq. 18; `published`: Powder Technol. 58 (1989) 63).
 *
 * @param sphericity ψ_s, 0.026 … 1
 * @example dragShape(1).b // 0.6529
 */
export function dragShape(sphericity: number): DragShape {
  const s = sphericity;
  return {
    a: Math.exp(2.3288 - 6.4581 * s + 2.4486 * s ** 2),
    b: 0.0964 + 0.5565 * s,
    c: Math.exp(4.905 - 13.8944 * s + 18.4222 * s ** 2 - 10.2599 * s ** 3),
    d: Math.exp(1.4681 + 12.2584 * s - 20.7322 * s ** 2 + 15.8855 * s ** 3),
  };
}

/** C_D at a Reynolds number; valid below 2.5e4. */
export function dragCoefficient({ a, b, c, d }: DragShape, reynolds: number): number {
  return (24 / reynolds) * (1 + a * reynolds ** b) + c / (1 + d / reynolds);
}

/**
 * Slip correction C_c = 1 + Kn(1.257 + 0.4 exp(−1.1/Kn)), Kn = 2λ/x (`published`: Davies 1945).
 *
 * @param size x [m]
 * @param meanFreePath λ [m]
 * @example slipCorrection(1e-6, 6.51e-8) // 1.1637
 */
export function slipCorrection(size: number, meanFreePath: number): number {
  const knudsen = (2 * meanFreePath) / size;
  return 1 + knudsen * (1.257 + 0.4 * Math.exp(-1.1 / knudsen));
}

/**
 * Terminal velocity of a particle in a field of acceleration, from drag against weight, by bisection in ln v.
 *
 * @param size x [m]
 * @param particleDensity, fluidDensity [kg/m³]
 * @param viscosity [Pa s]
 * @param drag C_D as a function of Re
 * @param acceleration [m/s²]
 * @returns [m/s]
 */
export function settlingVelocity(
  size: number,
  particleDensity: number,
  fluidDensity: number,
  viscosity: number,
  drag: (reynolds: number) => number,
  acceleration = 9.80665,
): number {
  const weight = (4 / 3) * size * (particleDensity - fluidDensity) * acceleration;
  const falls = (logVelocity: number): boolean => {
    const v = Math.exp(logVelocity);
    return drag((fluidDensity * v * size) / viscosity) * fluidDensity * v * v <= weight;
  };
  return Math.exp(middleOf(bracket(falls, Math.log(1e-15), Math.log(1e5))));
}
