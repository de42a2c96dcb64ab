/** Standard gravity [m/s²]. */
export const GRAVITY = 9.80665;

/**
 * Darcy friction factor by Colebrook, 1/√f = −2 lg(ε/(3.7 D) + 2.51/(Re √f)), 64/Re below 2300 (eq. P7).
 *
 * @param reynolds Re [-]
 * @param relativeRoughness ε/D [-]
 * @example frictionFactor(120_000, 0.00035) // 0.0191
 */
export function frictionFactor(reynolds: number, relativeRoughness: number): number {
  if (reynolds < 2300) return 64 / Math.max(reynolds, Number.MIN_VALUE);
  let root = 8;
  for (let step = 0; step < 50; step++) {
    const next = -2 * Math.log10(relativeRoughness / 3.7 + (2.51 * root) / reynolds);
    const change = Math.abs(next - root);
    root = next;
    if (change < 1e-14 * root) break;
  }
  return 1 / (root * root);
}

/** Hydraulic diameter of a rectangular duct, 4A/U = 2ab/(a + b) [m]. */
export function hydraulicDiameter(width: number, height: number): number {
  return (2 * width * height) / (width + height);
}

/**
 * Saltation velocity in a horizontal pipe (eq. P8; Rizk, in Rhodes ch. 8, `recalled`):
 *
 * M_s/M_g = 10^−α Fr^β at saltation, α = 1440 x + 1.96, β = 1100 x + 2.5, Fr = v/√(gD), x in metres;
 * solved for v: v = [4 M_s 10^α g^(β/2) D^(β/2−2)/(π ρ)]^(1/(β+1))
 *
 * @param solids M_s [kg/s]
 * @param size x [m]; the data lie between 0.1 and 3 mm
 * @param airDensity ρ [kg/m³]
 * @param diameter D [m]
 * @returns [m/s]
 * @example saltationVelocity(0.25, 100e-6, 1.2, 0.078) // 9.8833
 */
export function saltationVelocity(
  solids: number,
  size: number,
  airDensity: number,
  diameter: number,
): number {
  const alpha = 1440 * size + 1.96;
  const beta = 1100 * size + 2.5;
  const inside =
    (4 * solids * 10 ** alpha * GRAVITY ** (beta / 2) * diameter ** (beta / 2 - 2)) / (Math.PI * airDensity);
  return inside ** (1 / (beta + 1));
}
