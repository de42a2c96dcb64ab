import { GRAVITY } from '../pipe.ts';

/** Dimensions of a cyclone with a slot inlet, SI. */
export interface Barrel {
  /** R of the barrel and R_x of the vortex finder, whose continuation is the core surface [m]. */
  readonly radius: number;
  readonly coreRadius: number;
  /** Inlet width b and height a [m]. */
  readonly inletWidth: number;
  readonly inletHeight: number;
  /** H and S [m]. */
  readonly height: number;
  readonly finderLength: number;
  /** k_s [m]. */
  readonly roughness: number;
  /** A_R, all the inside wall the gas rubs on [m²]. */
  readonly wallArea: number;
}

/** Gas through a cyclone. */
export interface Gas {
  readonly flow: number;
  readonly density: number;
  readonly viscosity: number;
  readonly vortexShare: number;
}

/**
 * Swirl velocity at the wall behind a slot inlet, v_θw = v_in R_in/(α R) (eq. P11), with the jet's contraction
 *
 * α = (1/ξ){1 − √(1 + 4[(ξ/2)² − ξ/2] √(1 − (1 − ξ²)(2ξ − ξ²)/(1 + c_o)))}, ξ = b/R   (Muschelknautz, `recalled`)
 *
 * @param inletVelocity v_in [m/s]
 * @param loading c_o [-]
 */
export function wallSwirl(barrel: Barrel, inletVelocity: number, loading: number): number {
  const { radius, inletWidth } = barrel;
  const xi = inletWidth / radius;
  const inner = Math.sqrt(1 - ((1 - xi * xi) * (2 * xi - xi * xi)) / (1 + loading));
  const contraction = (1 - Math.sqrt(1 + 4 * ((xi / 2) ** 2 - xi / 2) * inner)) / xi;
  return (inletVelocity * (radius - inletWidth / 2)) / (contraction * radius);
}

/**
 * Wall friction of the gas alone, f = 0.323 Re_R^−0.623 (smooth) + a rough part above k_s/R = 6e-4 (eq. P12, `recalled`),
 *
 * Re_R = R_in R_m v_zw ρ/(H µ (1 + (v_zm/v_θm)²)), R_m = √(R_x R), v_zw = 0.9 Q/(π(R² − R_m²)), v_θm = √(v_θw v_θCS),
 * v_zm the axial velocity between finder and barrel, 0.9 Q/(π(R² − R_x²)).
 */
export function gasFriction(barrel: Barrel, gas: Gas, wall: number, core: number): number {
  const { radius, coreRadius, height, inletWidth, roughness } = barrel;
  const meanRadius = Math.sqrt(coreRadius * radius);
  const vortexFlow = gas.vortexShare * gas.flow;
  const axial = vortexFlow / (Math.PI * (radius * radius - meanRadius * meanRadius));
  const axialMean = vortexFlow / (Math.PI * (radius * radius - coreRadius * coreRadius));
  const turning = 1 + axialMean ** 2 / (wall * core);
  const reynolds =
    ((radius - inletWidth / 2) * meanRadius * axial * gas.density) / (height * gas.viscosity * turning);
  return 0.323 * reynolds ** -0.623 + roughPart(roughness / radius, reynolds);
}

/** f_r = lg(1.60/(k_s/R − 0.000599))⁻² [1 + 2.25e5/(Re² (k_s/R − 0.000599)^0.213)]⁻¹ (`recalled`). */
function roughPart(relative: number, reynolds: number): number {
  const above = relative - 0.000599;
  if (above <= 0) return 0;
  return 1 / (Math.log10(1.6 / above) ** 2 * (1 + 2.25e5 / (reynolds ** 2 * above ** 0.213)));
}

/**
 * Wall friction added by dust strands, f = 0.25 (R/R_x)^−0.625 √(η c_o Fr_x ρ/ρ_str), Fr_x = v_x/√(2 R_x g) (eq. P12,
 * `recalled`).
 *
 * @param outletVelocity v_x [m/s]
 * @param keptLoading η c_o [-]
 * @param strandDensity ρ_str [kg/m³]
 */
export function dustFriction(
  { radius, coreRadius }: Barrel,
  gas: Gas,
  outletVelocity: number,
  keptLoading: number,
  strandDensity: number,
): number {
  const froude = outletVelocity / Math.sqrt(2 * coreRadius * GRAVITY);
  return (
    0.25 * (radius / coreRadius) ** -0.625 * Math.sqrt((keptLoading * froude * gas.density) / strandDensity)
  );
}

/**
 * Swirl velocity on the core surface, v_θCS = v_θw (R/R_x)/(1 + f A_R v_θw √(R/R_x)/(2Q)) (eq. P13).
 *
 * @param flow Q [m³/s]
 * @param wall v_θw [m/s]
 * @param friction f [-]
 */
export function coreSwirl(
  { radius, coreRadius, wallArea }: Barrel,
  flow: number,
  wall: number,
  friction: number,
): number {
  const ratio = radius / coreRadius;
  return (wall * ratio) / (1 + (friction * wallArea * wall * Math.sqrt(ratio)) / (2 * flow));
}
