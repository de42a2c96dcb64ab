import { describe, expect, test } from 'vitest';
import { massClosure } from '../../src/model/loop/mass-balance.ts';
import { solve } from '../../src/model/loop/solve.ts';
import { changed, PILOT } from '../cases.ts';
import { close } from '../close.ts';
import { plainFlow, plainProblem, plainSteady } from '../reference/plain.ts';
import { uniform, wideCase } from '../reference/random-cases.ts';

describe('against a second, plain coding with dense LU (ml-matrix): eq. 1 to 26, 26b', () => {
  test('steady states of random cases', () => {
    const random = uniform(4711);
    let compared = 0;
    while (compared < 25) {
      const c = wideCase(random);
      const state = solve(c);
      if (state.status === 'choked' || state.circulating > 30 * c.settings.feedRate) continue;
      const plain = plainFlow(plainProblem(c), state.circulating);
      close(plain.around, state.circulating, 1e-9);
      close(state.conditions.temperature, plain.temperature, 1e-12);
      close(state.components[0]!.cutSize, plain.cutSize, 1e-12);
      const largest = Math.max(...plain.arriving[0]!);
      state.components[0]!.arriving.forEach((h, i) => {
        expect(Math.abs(h - plain.arriving[0]![i]!)).toBeLessThan(1e-9 * largest);
      });
      compared++;
    }
  });
  test('the pilot case, its own route to the root included', () => {
    const plain = plainSteady(PILOT)!;
    const state = solve(PILOT);
    if (state.status !== 'steady') throw new Error('choked');
    close(state.circulating, plain.circulating, 1e-9);
    expect(massClosure(state)).toBeLessThan(1e-12);
  });
  test('two components, pins, evaporation and casing loss', () => {
    const [component] = PILOT.components;
    const c = {
      ...changed(PILOT, { loop: { casingLoss: 40, evaporation: 0.01 } }),
      components: [
        { ...component!, share: 0.7 },
        {
          share: 0.3,
          material: {
            ...component!.material,
            density: 2650,
            selection: { law: 'impact', friability: 1.4, threshold: 0.05 },
          },
          feed: { law: 'log-normal', x50: 200e-6, spread: 0.5 },
        },
      ],
      rotor: { ...PILOT.rotor, geometry: { ...PILOT.rotor.geometry, element: 'pin' as const } },
    };
    const state = solve(c);
    if (state.status !== 'steady') throw new Error('choked');
    const plain = plainFlow(plainProblem(c), state.circulating);
    close(plain.around, state.circulating, 1e-9);
    close(state.conditions.temperature, plain.temperature, 1e-12);
    expect(massClosure(state)).toBeLessThan(1e-12);
  });
});
