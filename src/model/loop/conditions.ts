import { airViscosity, meanFreePath } from '../air.ts';
import { outletTemperature } from '../heat.ts';
import { cutSize, stokesCutSize } from '../wheel/cut.ts';
import { fillOutlet } from './outlet-heat.ts';
import type { Conditions } from './state.ts';
import type { Workspace } from './workspace.ts';

/**
 * Sets `now` and every component's cut for a circulating flow G: heat balance, gap and inflow speeds at the outlet
 * temperature, crowded hits, loaded sharpness and bypass (eq. 4, 6, 18, 20, 22–25).
 *
 * T rises with G, hits per pass fall, bypass rises, sharpness falls; `boundedFlow` relies on these directions.
 *
 * @param w workspace, written
 * @param circulating G [kg/s]
 */
export function setConditions(w: Workspace, circulating: number): void {
  const { fixed, now, case: c } = w;
  const massFlow = fixed.inlet.massFlow;
  const loading = circulating / massFlow;
  const crowdedHits = fixed.freeHits / (1 + loading / c.rotor.coefficients.crowdingLoad);
  const wheelThroughput = massFlow + circulating;
  const inlet = c.air.temperature;
  const sources = {
    fixed: fixed.idlePower + w.casingHeat + fixed.pickUpWork * circulating + fixed.vaneWork * wheelThroughput,
    hits: fixed.hitWork * crowdedHits * circulating,
    lean: fixed.leanWork * wheelThroughput,
  };
  if (fixed.water > 0) fillOutlet(sources, fixed, inlet, c.air.pressure, now);
  else {
    now.temperature = outletTemperature(sources, fixed.heatCapacityFlow, inlet);
    now.evaporated = 0;
  }
  const { temperature } = now;
  const expansion = temperature / inlet;
  now.circulating = circulating;
  now.loading = loading;
  now.airDensity = fixed.inlet.density / expansion;
  now.viscosity = airViscosity(temperature);
  now.hitsPerPass = crowdedHits / expansion;
  now.radialVelocity = fixed.radialVelocity * expansion;
  now.swirlVelocity = fixed.vaneSwirl + fixed.leanSwirl * now.radialVelocity;
  const wheel = c.wheel.coefficients;
  const [lowest, highest] = fixed.efficiency.sharpnessRange;
  const loaded = wheel.sharpness * Math.exp(-wheel.sharpnessLoading * loading);
  now.sharpness = Math.min(highest, Math.max(lowest, loaded));
  now.bypass = 1 - (1 - wheel.bypass) * Math.exp(-wheel.bypassLoading * loading);
  setCuts(w);
}

/** All conditions of the circulating flow last set: to the above, powers and pressure loss (eq. 16, 17, 23). */
export function conditionsOf(w: Workspace): Conditions {
  const { fixed, now, case: c } = w;
  const { circulating, temperature, hitsPerPass, radialVelocity } = now;
  const massFlow = fixed.inlet.massFlow;
  const expansion = temperature / c.air.temperature;
  const rise = fixed.riseSpeed * expansion;
  const grindingPower = (fixed.hitWork * hitsPerPass + fixed.pickUpWork) * circulating;
  const wheelWork = fixed.vaneWork + fixed.leanWork * expansion;
  const { gapLoss } = c.rotor.coefficients;
  const { entranceLoss, vortexLoss } = c.wheel.coefficients;
  const losses = gapLoss * rise ** 2 + entranceLoss * radialVelocity ** 2 + vortexLoss * fixed.rimSpeed ** 2;
  const dryAir = massFlow / (1 + fixed.inlet.humidityRatio);
  return {
    loading: now.loading,
    airMassFlow: massFlow,
    temperature,
    airDensity: now.airDensity,
    airFlow: massFlow / now.airDensity,
    viscosity: now.viscosity,
    tipSpeed: fixed.tipSpeed,
    impactSpeed: fixed.hit.speed,
    hitEnergy: fixed.hit.energy,
    riseSpeed: rise,
    hitsPerPass,
    idlePower: fixed.idlePower,
    grindingPower,
    rotorPower: fixed.idlePower + grindingPower,
    availablePower: fixed.availablePower,
    wheelPower: wheelWork * (massFlow + circulating),
    rimSpeed: fixed.rimSpeed,
    radialVelocity,
    swirlVelocity: now.swirlVelocity,
    sharpness: now.sharpness,
    bypass: now.bypass,
    pressureLoss: (now.airDensity / 2) * losses,
    humidityRatio: fixed.inlet.humidityRatio + now.evaporated / dryAir,
    evaporated: now.evaporated,
    waterLeft: fixed.water - now.evaporated,
  };
}

function setCuts(w: Workspace): void {
  const { now, case: c } = w;
  const factor = c.wheel.coefficients.cutFactor * (1 + c.wheel.coefficients.cutLoading * now.loading);
  const { rim } = w;
  rim.radialVelocity = now.radialVelocity;
  rim.swirlVelocity = now.swirlVelocity;
  rim.airDensity = now.airDensity;
  rim.viscosity = now.viscosity;
  rim.meanFreePath = meanFreePath(now.temperature, c.air.pressure, now.viscosity);
  for (let i = 0; i < w.components.length; i++) {
    const work = w.components[i]!;
    const prepared = w.chamber.components[i]!;
    rim.particleDensity = prepared.component.material.density;
    const before = work.stokesCutSize;
    work.stokesCutSize = now.swirlVelocity > 0 ? stokesCutSize(rim) : Number.POSITIVE_INFINITY;
    if (!Number.isFinite(work.stokesCutSize)) {
      work.cutSize = work.stokesCutSize;
      work.idealCut = 0; // nothing to scale the next cut from
      continue;
    }
    // the cut moves nearly as its Stokes value does
    const start = work.idealCut > 0 ? (work.idealCut * work.stokesCutSize) / before : work.stokesCutSize;
    work.idealCut = cutSize(rim, prepared.drag, start);
    work.cutSize = factor * work.idealCut;
  }
}
