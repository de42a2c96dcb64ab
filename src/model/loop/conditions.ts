import { airViscosity, meanFreePath } from '../air.ts';
import { outletTemperature } from '../heat.ts';
import { cutSize, stokesCutSize } from '../wheel/cut.ts';
import type { Workspace } from './workspace.ts';

/**
 * Sets `now` and every component's cut for a circulating flow G: heat balance, gap and inflow speeds at the outlet
 * temperature, crowded hits, powers, loaded sharpness and bypass (eq. 4, 6, 16–18, 20, 22–25).
 *
 * T rises with G, hits per pass fall, bypass rises, sharpness falls; `boundedFlow` relies on these directions.
 *
 * @param w workspace, written
 * @param circulating G [kg/s]
 */
export function setConditions(w: Workspace, circulating: number): void {
  const { fixed, now, case: c } = w;
  const { rotor, wheel } = c;
  const massFlow = fixed.inlet.massFlow;
  const loading = circulating / massFlow;
  const crowding = 1 / (1 + loading / rotor.coefficients.crowdingLoad);
  const { velocityRatio, restitution, powerFactor = 1 } = rotor.coefficients;
  const swirlPickedUp = powerFactor * (1 - velocityRatio) * fixed.tipSpeed * fixed.tipSpeed * circulating;
  // ε v_imp written as 2W/v_imp, so that the share ε stands in one place
  const momentum = fixed.hit.speed > 0 ? (2 * fixed.hit.energy) / fixed.hit.speed : 0;
  const hitPower =
    powerFactor * fixed.tipSpeed * (1 + restitution) * momentum * fixed.freeHits * crowding * circulating;
  const wheelThroughput = (massFlow + circulating) * fixed.rimSpeed;
  const vanePower = wheelThroughput * fixed.vaneSwirl;
  const leanPower = wheelThroughput * fixed.leanSwirl * fixed.radialVelocity;
  const inlet = c.air.temperature;
  const temperature = outletTemperature(
    {
      fixed: fixed.idlePower + swirlPickedUp + vanePower - fixed.evaporationPower,
      hits: hitPower,
      lean: leanPower,
    },
    fixed.heatCapacityFlow,
    inlet,
  );
  const expansion = temperature / inlet;
  now.loading = loading;
  now.airMassFlow = massFlow;
  now.temperature = temperature;
  now.airDensity = fixed.inlet.density / expansion;
  now.airFlow = massFlow / now.airDensity;
  now.viscosity = airViscosity(temperature);
  now.tipSpeed = fixed.tipSpeed;
  now.impactSpeed = fixed.hit.speed;
  now.hitEnergy = fixed.hit.energy;
  now.gapSpeed = fixed.gapSpeed * expansion;
  now.hitsPerPass = (fixed.freeHits * crowding) / expansion;
  now.idlePower = fixed.idlePower;
  now.grindingPower = hitPower / expansion + swirlPickedUp;
  now.rotorPower = now.idlePower + now.grindingPower;
  now.availablePower = fixed.availablePower;
  now.wheelPower = vanePower + leanPower * expansion;
  now.rimSpeed = fixed.rimSpeed;
  now.radialVelocity = fixed.radialVelocity * expansion;
  now.swirlVelocity = fixed.vaneSwirl + fixed.leanSwirl * now.radialVelocity;
  const wheelCoefficients = wheel.coefficients;
  const [lowest, highest] = fixed.efficiency.sharpnessRange;
  const loaded = wheelCoefficients.sharpness * Math.exp(-wheelCoefficients.sharpnessLoading * loading);
  now.sharpness = Math.min(highest, Math.max(lowest, loaded));
  now.bypass = 1 - (1 - wheelCoefficients.bypass) * Math.exp(-wheelCoefficients.bypassLoading * loading);
  now.pressureLoss =
    (now.airDensity / 2) *
    (rotor.coefficients.gapLoss * now.gapSpeed * now.gapSpeed +
      wheelCoefficients.entranceLoss * now.radialVelocity * now.radialVelocity +
      wheelCoefficients.vortexLoss * fixed.rimSpeed * fixed.rimSpeed);
  const dryAir = massFlow / (1 + fixed.inlet.humidityRatio);
  now.humidityRatio = fixed.inlet.humidityRatio + (fixed.feedRate * c.loop.evaporation) / dryAir;
  setCuts(w);
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
      continue;
    }
    // the cut moves nearly as its Stokes value does
    const start = work.idealCut > 0 ? (work.idealCut * work.stokesCutSize) / before : work.stokesCutSize;
    work.idealCut = cutSize(rim, prepared.drag, start);
    work.cutSize = factor * work.idealCut;
  }
}
