import { describe, expect, test } from 'vitest';
import { FRAGMENT_LAWS } from '../../src/model/breakage/fragments/index.ts';
import { SELECTION_LAWS } from '../../src/model/breakage/selection/index.ts';
import { solve } from '../../src/model/loop/solve.ts';
import { captureEfficiency, normalEnergyShare, tipSpeed } from '../../src/model/rotor.ts';
import { airlock } from '../../src/plant/airlock.ts';
import { feeder } from '../../src/plant/feeder.ts';
import { FEEDERS } from '../../src/plant/feeders.ts';
import { bagFilter } from '../../src/plant/filter.ts';
import { conveyingLine } from '../../src/plant/line.ts';
import { plantAt } from '../../src/plant/plant-state.ts';
import { filledLaw, plantFrom } from '../../src/plant/presets.ts';
import { comparedCurve } from '../../src/trials/fit/covariance.ts';
import { MEASUREMENT_ERRORS } from '../../src/trials/trial.ts';
import { changed, PILOT } from '../cases.ts';
import { close } from '../close.ts';

/** Equations that no table or worked example covers, evaluated by hand (`derived`). */
const state = solve(PILOT);
if (state.status !== 'steady') throw new Error('choked');
const { conditions, circulating } = state;
const selected = (law: string, parameters: object, size: number, speed: number) =>
  SELECTION_LAWS[law]!.probability({ law, ...parameters }, size, { speed, energy: speed ** 2 / 2 });
const fragments = (law: string, parameters: object, ratio: number) =>
  FRAGMENT_LAWS[law]!.undersize({ law, ...parameters }, ratio * 1e-4, 1e-4);

describe('rotor', () => {
  test('eq. 1, 2, 3: tip speed, impact speed, energy of a hit; a pin', () => {
    close(tipSpeed(0.3, 100), 94.2477796, 1e-8);
    close(conditions.impactSpeed, 76.5, 1e-12);
    close(conditions.hitEnergy, 2926.125, 1e-12);
    let mean = 0;
    for (let i = 0; i < 1e4; i++) mean += (1 - ((i + 0.5) / 5e3 - 1) ** 2) / 1e4;
    close(normalEnergyShare('pin'), mean, 1e-7);
  });
  test('eq. 5: capture of 5 µm by a 20 mm bar', () => {
    close(captureEfficiency(5e-6, 1590, 76.5, 1.81e-5, 0.02), 0.42402028, 1e-7);
  });
  test('eq. 6: free hits over hits is 1 + λ/λ_r', () => {
    const free = solve(changed(PILOT, { rotor: { crowdingLoad: 1e12 } }));
    const perTime = (one: typeof conditions) => one.hitsPerPass * one.temperature;
    close(perTime(free.conditions) / perTime(conditions), 1 + conditions.loading / 6, 1e-9);
  });
});

describe('breakage', () => {
  test('eq. 8: on the falling branch, and a quarter at half the speed', () => {
    const power = { rate: 0.6, exponent: 0.9, referenceSize: 1e-3, turnSize: 1e-3, turnExponent: 3 };
    close(selected('power', { ...power, referenceSpeed: 80 }, 2e-3, 80), 0.1244044, 1e-6);
    close(selected('power', { ...power, referenceSpeed: 80 }, 2e-3, 40), 0.0311011, 1e-6);
  });
  test('eq. 10: halfway in ln x between points on a straight line', () => {
    const points = [
      [1e-5, 0.1],
      [1e-4, 0.3],
      [1e-3, 0.5],
    ];
    close(selected('table', { points, referenceSpeed: 80 }, 10 ** -4.5, 80), 0.2, 1e-12);
  });
  test('eq. 13, 14, 15: fragments of half and a twentieth of the size', () => {
    close(fragments('truncated-exponential', {}, 0.5), 0.62245933, 1e-8);
    close(fragments('power', { exponent: 1.3 }, 0.5), 0.4061262, 1e-7);
    const points = [
      [0.1, 0.15],
      [0.5, 0.5],
    ];
    close(fragments('table', { points }, 0.05), 0.075, 1e-12);
  });
});

describe('wheel and power of the pilot mill', () => {
  test('eq. 20: sharpness and bypass at its loading; leakage alone leaves of the coarsest class', () => {
    close(conditions.sharpness, 0.6 * Math.exp(-0.03 * conditions.loading), 1e-12);
    close(conditions.bypass, 1 - 0.97 * Math.exp(-0.02 * conditions.loading), 1e-12);
    close(state.components[0]!.leaving.at(-1)!, 2e-4, 1e-9);
  });
  test('eq. 23, 24: grinding hit by hit, wheel as torque times speed', () => {
    const { tipSpeed: tip, impactSpeed, hitsPerPass, swirlVelocity, airMassFlow } = conditions;
    close(
      conditions.grindingPower,
      circulating * tip * (1.1 * impactSpeed * hitsPerPass + 0.15 * tip),
      1e-12,
    );
    close(conditions.wheelPower, (airMassFlow + circulating) * swirlVelocity * 0.1 * 50 * Math.PI, 1e-12);
  });
});

describe('pressure loss', () => {
  test('eq. 24b: rise past the elements, inflow and vortex of the pilot mill', () => {
    const { airFlow, airDensity, radialVelocity, rimSpeed, pressureLoss } = conditions;
    const rise = airFlow / (Math.PI * 0.29 * 0.03);
    const heads = PILOT.rotor.coefficients.gapLoss * rise ** 2 + radialVelocity ** 2 + rimSpeed ** 2;
    close(pressureLoss, (airDensity / 2) * heads, 1e-12);
  });
});

describe('calibration', () => {
  test('eq. K1: velocity ratio up, friability and threshold to match, selects the same', () => {
    for (const x of [20e-6, 1e-4, 4e-4])
      close(
        selected('impact', { friability: 0.9 / 1.44, threshold: 0.025 * 1.44 }, x, 76.5 * 1.2),
        selected('impact', { friability: 0.9, threshold: 0.025 }, x, 76.5),
        1e-12,
      );
  });
  test('eq. K2: 3 % at x50, 5 % at x10, doubled below 10 µm', () => {
    const errorAt = (size: number, undersize: number) => {
      const points = [
        { size, undersize },
        { size: 200e-6, undersize: 0.9 },
      ].sort((a, b) => a.size - b.size);
      const { covariance } = comparedCurve(
        { method: 'laser', kind: 'percentiles', points } as unknown as Parameters<typeof comparedCurve>[0],
        1,
        MEASUREMENT_ERRORS,
      );
      return Math.sqrt(covariance.get(0, 0));
    };
    const own = Math.hypot(0.01, 0.003);
    close(errorAt(50e-6, 0.5), Math.hypot(0.03, own), 1e-9);
    close(errorAt(20e-6, 0.1), Math.hypot(0.05, own), 1e-9);
    close(errorAt(5e-6, 0.1), Math.hypot(0.1, own), 1e-9);
  });
});

describe('around the mill', () => {
  test('eq. P4: noise, drift and pulsation of a screw at half its rate', () => {
    const law = FEEDERS.volumetric!;
    const given = { maximumRate: 0.2, noise: 0.03, drift: 0.05, pulsation: 0.05, screwSpeed: 2 };
    const { spread, wander } = feeder(filledLaw(law, given), 0.1);
    close(spread, Math.sqrt(0.0009 + 0.0025 + 0.00125), 1e-12);
    close(wander.pulsationPeriod, 1, 1e-12);
  });
  test('eq. P6: 20 L at 20 rpm', () => {
    const { capacity, pocketLeakage, clearanceLeakage } = airlock(
      {
        pocketVolume: 0.02,
        speed: 1 / 3,
        fill: 0.4,
        vanes: 8,
        clearance: 0.00015,
        dischargeCoefficient: 0.6,
      },
      { solids: 0.1, bulkDensity: 500, particleDensity: 1500, suction: 3000, airDensity: 1.2 },
    );
    close(capacity, 4 / 3, 1e-12);
    close(pocketLeakage, 0.02 / 3 - 0.1 / 1500, 1e-12);
    close(clearanceLeakage, 0.6 * 0.0006 * Math.cbrt(0.1 / Math.PI) * Math.sqrt(6000 / 3.6), 1e-12);
  });
  test('eq. P9: bends, acceleration and lift of a line with a loading of one half', () => {
    const line = conveyingLine(
      {
        diameter: 0.1,
        velocity: 20,
        length: 10,
        rise: 3,
        bends: 2,
        bendLoss: 0.3,
        roughness: 9e-5,
        solidsFriction: 0.005,
        slip: 0.85,
        heatLoss: 0,
      },
      { flow: 0.16, airDensity: 1.2, viscosity: 1.81e-5, solids: 0.096, size: 200e-6 },
      0.16,
    );
    const head = 0.6 * (0.16 / (Math.PI * 0.0025)) ** 2;
    close(line.losses.bends, 0.9 * head, 1e-12);
    close(line.losses.acceleration, 0.85 * head, 1e-12);
    close(line.losses.lift, (1 + 0.5 / 0.85) * 1.2 * 9.80665 * 3, 1e-12);
    close(line.losses.solids, 0.25 * head, 1e-12);
  });
  test('eq. P17: velocity between 96 bags, and the loss with cake', () => {
    const filter = {
      bags: 96,
      airToCloth: 0.04,
      bagDiameter: 0.1,
      bagLength: 5,
      pitch: 1.5,
      mediumResistance: 2e4,
      cakeResistance: 6e4,
      cleaningInterval: 180,
      penetration: 0,
      highestLoss: 2000,
    };
    const { canVelocity, pressureLoss } = bagFilter(filter, { flow: 5, dust: 0.05 }, 5);
    close(canVelocity, 3.5561428, 1e-7);
    const cloth = 48 * Math.PI;
    close(pressureLoss, ((2e4 + (6e4 * 0.05 * 180) / cloth) * 5) / cloth, 1e-12);
  });
  test('eq. P3, P21: mill loss grows with load; water left of 1 % fed and 0.2 % evaporated', () => {
    const c = changed(PILOT, { loop: { evaporation: 0.002 } });
    const wet = solve(c);
    if (wet.status !== 'steady') throw new Error('choked');
    const plant = plantAt(c, wet, plantFrom({ product: { moisture: 0.01 } }));
    const { pressureLoss, loading } = wet.conditions;
    close(plant.march.mill.loss, pressureLoss * (1 + 0.05 * loading), 1e-12);
    close(plant.streams.blended.moisture, 0.008 / 0.998, 1e-12);
    expect(plant.march.mill.loss).toBeGreaterThan(pressureLoss);
  });
});
