import { AIR_HEAT_CAPACITY, EVAPORATION_HEAT, type InletAir, inletAir } from '../air.ts';
import type { Hit } from '../breakage/selection/selection-law.ts';
import type { Case } from '../case.ts';
import {
  availablePower,
  freeHitsPerPass,
  idlePower,
  normalEnergyShare,
  riseSpeed,
  tipSpeed,
} from '../rotor.ts';
import type { EfficiencyLaw } from '../wheel/efficiency/efficiency-law.ts';
import { EFFICIENCY_LAWS } from '../wheel/efficiency/index.ts';
import { freeArea, swirlFactor } from '../wheel/wheel-flow.ts';

/** What a case fixes before any circulating flow is known; SI. */
export interface Fixed {
  readonly inlet: InletAir;
  readonly feedRate: number;
  readonly tipSpeed: number;
  readonly hit: Hit;
  /** k_0 and v_z at the inlet temperature; both follow the air's expansion. */
  readonly freeHits: number;
  readonly riseSpeed: number;
  readonly idlePower: number;
  readonly availablePower: number;
  readonly rimSpeed: number;
  /** v_r at the inlet temperature. */
  readonly radialVelocity: number;
  /** χ_φ ω R, and χ_β tan β. */
  readonly vaneSwirl: number;
  readonly leanSwirl: number;
  /** Work of one hit, and of picking up the swirl, on what goes round [J/kg] (eq. 16). */
  readonly hitWork: number;
  readonly pickUpWork: number;
  /** Work of vanes, and of their lean at inlet temperature, on air and what goes round [J/kg] (eq. 17). */
  readonly vaneWork: number;
  readonly leanWork: number;
  /** m_air c_air + F Σ c_p + U [W/K]. */
  readonly heatCapacityFlow: number;
  /** Water that evaporates if the air can take it up [kg/s], and the heat that takes [J/kg] (eq. 25). */
  readonly water: number;
  readonly evaporationHeat: number;
  readonly efficiency: EfficiencyLaw;
}

/** All that a case fixes for every circulating flow. */
export function fixedBy(c: Case): Fixed {
  const { rotor, wheel, settings } = c;
  const inlet = inletAir(c.air);
  const flow = inlet.massFlow / inlet.density;
  const tip = tipSpeed(rotor.geometry.diameter, settings.rotorSpeed);
  const impact = rotor.coefficients.velocityRatio * tip;
  const energy = (normalEnergyShare(rotor.geometry.element) * impact * impact) / 2;
  const rise = riseSpeed(flow, rotor.geometry);
  const { velocityRatio, restitution, powerFactor = 1 } = rotor.coefficients;
  // ε v_imp written as 2W/v_imp, so that the share ε stands in one place
  const momentum = impact > 0 ? (2 * energy) / impact : 0;
  const rimSpeed = Math.PI * wheel.geometry.diameter * settings.wheelSpeed;
  const radialVelocity = (wheel.coefficients.radialFactor * flow) / freeArea(wheel.geometry);
  const vaneSwirl = swirlFactor(wheel) * rimSpeed;
  const leanSwirl = wheel.coefficients.leanFactor * Math.tan(wheel.geometry.lean);
  return {
    inlet,
    feedRate: settings.feedRate,
    tipSpeed: tip,
    hit: { speed: impact, energy },
    freeHits: freeHitsPerPass(rotor, settings.rotorSpeed, rise),
    riseSpeed: rise,
    idlePower: idlePower(rotor, settings.rotorSpeed, inlet.density, inlet.massFlow),
    availablePower: availablePower(rotor.motor, settings.rotorSpeed),
    rimSpeed,
    radialVelocity,
    vaneSwirl,
    leanSwirl,
    hitWork: powerFactor * tip * (1 + restitution) * momentum,
    pickUpWork: powerFactor * (1 - velocityRatio) * tip * tip,
    vaneWork: rimSpeed * vaneSwirl,
    leanWork: rimSpeed * leanSwirl * radialVelocity,
    ...heatOfFeed(c, inlet, settings.feedRate),
    efficiency: EFFICIENCY_LAWS[wheel.efficiency.law]!,
  };
}

/** What of the heat balance moves with the feed rate [kg/s]. */
export function heatOfFeed(
  c: Case,
  inlet: InletAir,
  feedRate: number,
): Pick<Fixed, 'heatCapacityFlow' | 'water' | 'evaporationHeat'> {
  let solids = 0;
  for (const { share, material } of c.components) solids += share * material.heatCapacity;
  return {
    heatCapacityFlow: inlet.massFlow * AIR_HEAT_CAPACITY + feedRate * solids + c.loop.casingLoss,
    water: feedRate * c.loop.evaporation,
    evaporationHeat: EVAPORATION_HEAT,
  };
}
