import { describe, expect, test } from 'vitest';
import { solve } from '../../../src/model/loop/solve.ts';
import { CYCLONES } from '../../../src/plant/cyclone/index.ts';
import { plantAt } from '../../../src/plant/plant-state.ts';
import { filledLaw, plantFrom } from '../../../src/plant/presets.ts';
import { changed, PILOT } from '../../cases.ts';
import { close } from '../../close.ts';
import { secondCyclone } from '../../reference/muschelknautz.ts';

function pilotPlant(stated = {}, change = {}) {
  const c = changed(PILOT, change);
  const state = solve(c);
  if (state.status !== 'steady') throw new Error('choked');
  return plantAt(c, state, plantFrom(stated));
}

describe('the plant around the pilot mill', () => {
  test.each([
    ['presets', {}, {}],
    [
      'a Lapple cyclone, two in parallel, heat lost on the way',
      {
        cyclone: { law: 'lapple', count: 2 },
        productLine: { heatLoss: 12 },
        surroundings: { collectorHeatLoss: 20, filterHeatLoss: 9, falseAir: 0.1 },
      },
      {},
    ],
    [
      'water in the feed, part of it evaporated, a casing that loses heat',
      { product: { moisture: 0.03 } },
      { loop: { evaporation: 0.02, casingLoss: 30 } },
    ],
  ])('balances of air, water, solids and energy (eq. P1, P2) close to 1e-12 with %s', (_, stated, change) => {
    const { closure } = pilotPlant(stated, change);
    for (const residual of Object.values(closure)) expect(Math.abs(residual)).toBeLessThan(1e-12);
  });
  test('static pressure only falls on the way to the fan, and the fan gives it back', () => {
    const { march, fan } = pilotPlant();
    const pressures = march.stations.map(({ stream }) => stream.pressure);
    for (let i = 1; i < pressures.length; i++) expect(pressures[i]).toBeLessThanOrEqual(pressures[i - 1]!);
    expect(fan.rise).toBeGreaterThanOrEqual(PILOT.air.pressure - pressures.at(-1)!);
    close(fan.power, (fan.flow * fan.rise) / 0.65, 1e-12);
  });
  test('product streams: filter fines are finer than cyclone product, blended is all of it', () => {
    const { streams } = pilotPlant();
    expect(streams.filter.rate).toBeGreaterThan(0);
    const median = (bySize: Float64Array) => {
      let sum = 0;
      const half = bySize.reduce((total, rate) => total + rate, 0) / 2;
      return bySize.findIndex((rate) => {
        sum += rate;
        return sum >= half;
      });
    };
    expect(median(streams.filter.bySize)).toBeLessThan(median(streams.cyclone.bySize));
    close(streams.blended.rate, streams.cyclone.rate + streams.filter.rate, 1e-13);
    close(streams.blended.rate + streams.emission.rate, PILOT.settings.feedRate, 1e-12);
  });
  test('what is not known about the product is said, not passed over', () => {
    const { warnings } = pilotPlant();
    const codes = warnings.map(({ code }) => code);
    expect(codes).toContain('caking-unknown');
    expect(codes).toContain('heat-unknown');
  });
});

describe('Barth–Muschelknautz (eq. P11 to P15) against a second coding', () => {
  test.each([
    [0.4, 0.35, 0.08, 25e-6, 0],
    [0.6, 0.9, 0.004, 12e-6, 4.6e-5],
    [0.3, 0.2, 0.02, 60e-6, 5e-4],
  ])('D %f m, %f m³/s, %f kg/s', (D, Q, solids, median, ks) => {
    const law = CYCLONES['barth-muschelknautz']!;
    const state = law.separate(filledLaw(law, { wallRoughness: ks }), D, {
      flow: Q,
      airDensity: 1.15,
      viscosity: 1.9e-5,
      sizes: Float64Array.from([median]),
      streams: [{ density: 1590, rates: Float64Array.from([solids]) }],
      bulkDensity: 700,
      approach: Q / (0.5 * D * 0.2 * D),
    });
    const eta = state.kept[0]![0]!;
    const other = secondCyclone(
      {
        D,
        Dx: 0.5 * D,
        a: 0.5 * D,
        b: 0.2 * D,
        S: 0.5 * D,
        H: 4 * D,
        Hc: 2.5 * D,
        Dd: 0.375 * D,
        ks,
        Q,
        rho: 1.15,
        mu: 1.9e-5,
        rhoP: 1590,
        rhoBulk: 700,
        solids,
        median,
      },
      eta,
    );
    close(state.cutSizes[0]!, other.x50, 1e-9);
    close(1 - state.thrownOut, 1 - other.thrownOut, 1e-9);
    close(state.pressureLoss, other.pressureLoss, 1e-9);
  });
});
