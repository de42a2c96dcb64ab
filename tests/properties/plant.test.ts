import { describe, expect, test } from 'vitest';
import { solve } from '../../src/model/loop/solve.ts';
import { uniformNumbers } from '../../src/model/time/noise.ts';
import { CYCLONES } from '../../src/plant/cyclone/index.ts';
import { plantAt } from '../../src/plant/plant-state.ts';
import { filledLaw, plantFrom } from '../../src/plant/presets.ts';
import { changed, PILOT, rpm, WHEELS } from '../cases.ts';

/** Random plants around random points of the pilot: every number within its allowed or a plausible range. */
function randomPlant(seed: number) {
  const uniform = uniformNumbers(seed);
  const between = (low: number, high: number) => low + (high - low) * uniform();
  const wheels = Object.values(WHEELS);
  const c = changed(PILOT, {
    wheel: wheels[Math.floor(between(0, wheels.length))]!,
    settings: {
      rotorSpeed: between(60, 115),
      wheelSpeed: between(600, 3500) * rpm,
      feedRate: between(20, 350) / 3600,
    },
    air: {
      flow: between(1000, 1900) / 3600,
      temperature: between(263, 313),
      humidity: between(0, 1),
      pressure: between(80e3, 105e3),
    },
    loop: { evaporation: between(0, 0.03), casingLoss: between(0, 60) },
  });
  const plant = plantFrom({
    cyclone: { law: uniform() < 0.5 ? 'lapple' : 'barth-muschelknautz', count: Math.ceil(between(0, 4)) },
    feedLine: { velocity: between(14, 30), bends: Math.floor(between(0, 6)), length: between(0, 30) },
    productLine: { velocity: between(14, 30), heatLoss: between(0, 40), rise: between(0, 15) },
    surroundings: {
      conveyingShare: between(0.1, 0.5),
      falseAir: between(0, 0.2),
      collectorHeatLoss: between(0, 50),
      filterHeatLoss: between(0, 50),
    },
    airlock: { clearance: between(5e-5, 1e-3) },
    filter: { airToCloth: between(0.5, 3) / 60, penetration: between(0, 0.01) },
    product: { moisture: between(0, 0.05), bulkDensity: between(200, 1200) },
  });
  const state = solve(c, { choke: false });
  return state.status === 'choked' ? undefined : plantAt(c, state, plant);
}

describe('any plant around any steady mill', () => {
  const plants = Array.from({ length: 150 }, (_, i) => randomPlant(1000 + i)).filter(
    (plant) => plant !== undefined,
  );
  test('there are enough of them', () => {
    expect(plants.length).toBeGreaterThan(100);
  });
  test('air, water, dry solids and energy balance to 1e-12', () => {
    for (const { closure } of plants) {
      for (const [name, residual] of Object.entries(closure))
        expect(Math.abs(residual), name).toBeLessThan(1e-12);
    }
  });
  test('static pressure never rises before the fan', () => {
    for (const { march } of plants) {
      const pressures = march.stations.map(({ stream }) => stream.pressure);
      for (let i = 1; i < pressures.length; i++) expect(pressures[i]).toBeLessThanOrEqual(pressures[i - 1]!);
    }
  });
  test('no stream is negative, and the cyclone keeps more of a coarser class', () => {
    for (const { streams, march } of plants) {
      for (const { bySize } of Object.values(streams))
        for (const rate of bySize) expect(rate).toBeGreaterThanOrEqual(0);
      for (const kept of march.cyclone.unit.kept) {
        for (let i = 1; i < kept.length; i++) expect(kept[i]).toBeGreaterThanOrEqual(kept[i - 1]!);
        expect(kept.at(-1)).toBeLessThanOrEqual(1);
      }
    }
  });
});

describe('the loading limit of a cyclone', () => {
  const law = CYCLONES['barth-muschelknautz']!;
  const at = (solids: number) =>
    law.separate(filledLaw(law), 0.5, {
      flow: 0.45,
      airDensity: 1.15,
      viscosity: 1.9e-5,
      sizes: Float64Array.from([1e-6, 3e-6, 10e-6, 30e-6]),
      streams: [{ density: 1500, rates: Float64Array.from([0.1, 0.2, 0.3, 0.4], (share) => share * solids) }],
      bulkDensity: 600,
      approach: 18,
    });
  test('thin dust is left to the vortex; more is thrown out at the inlet, whatever its size', () => {
    expect(at(3e-7).thrownOut).toBe(0);
    let before = 0;
    for (const solids of [0.005, 0.02, 0.08, 0.3]) {
      const { thrownOut, kept } = at(solids);
      expect(thrownOut).toBeGreaterThan(before);
      expect(kept[0]![0]!).toBeGreaterThanOrEqual(thrownOut);
      before = thrownOut;
    }
  });
  test('dust on the wall slows the swirl: the pressure loss falls and the cut coarsens with loading', () => {
    for (const [thin, thick] of [
      [1e-5, 0.02],
      [0.02, 0.2],
    ] as const) {
      expect(at(thick).cutSizes[0]!).toBeGreaterThan(at(thin).cutSizes[0]!);
      expect(at(thick).pressureLoss).toBeLessThan(at(thin).pressureLoss);
    }
  });
});
