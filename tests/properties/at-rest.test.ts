import { createRequire } from 'node:module';
import { describe, expect, test } from 'vitest';
import type { Case } from '../../src/model/case.ts';
import { fillState } from '../../src/model/loop/flow.ts';
import { solve } from '../../src/model/loop/solve.ts';
import { prepare, type Workspace } from '../../src/model/loop/workspace.ts';
import { changed, PILOT, rpm, WHEELS } from '../cases.ts';
import { close } from '../close.ts';
import { uniform, wideCase } from '../reference/random-cases.ts';

/** The package ships sources that do not pass these checks, so its types are stated here. */
interface OdexSolver {
  relativeTolerance: number;
  absoluteTolerance: number;
  maxSteps: number;
  solve(
    rate: (t: number, y: number[]) => number[],
    from: number,
    start: number[],
    to: number,
  ): { y: number[] };
}
const { Solver } = createRequire(import.meta.url)('odex') as { Solver: new (n: number) => OdexSolver };

/**
 * dh/dt = (F f − A(Σh) h)/τ_loop from an empty mill, by the extrapolation method of Gragg, Bulirsch & Stoer (package
 * odex, after Hairer, Nørsett & Wanner), long enough to come to rest. A h is formed class by class from D and K.
 */
function holdUpAtRest(c: Case, loops: number): { readonly circulating: number; readonly slope: number } {
  const w = prepare(c);
  const [work] = w.components;
  const n = w.chamber.grid.classes;
  const rate = (_t: number, h: number[]) => {
    const G = h.reduce((sum, value) => sum + value, 0);
    // below one feed rate the state is that of an unloaded loop
    fillState(w, Math.max(G, 1e-3 * c.settings.feedRate));
    return change(w, work!, h);
  };
  const solver = new Solver(n);
  solver.relativeTolerance = 1e-9;
  solver.absoluteTolerance = 1e-13;
  solver.maxSteps = 1e6;
  const { y } = solver.solve(rate, 0, new Array(n).fill(0), loops);
  const slope = rate(0, y).reduce((sum, value) => sum + Math.abs(value), 0);
  return { circulating: y.reduce((sum: number, value: number) => sum + value, 0), slope };
}

function change(w: Workspace, work: Workspace['components'][number], h: number[]): number[] {
  const { fragments, breakage, leaving, feed } = work;
  if (fragments.kind !== 'separable') throw new Error('one separable term expected');
  const n = w.chamber.grid.classes;
  const result = new Array<number>(n);
  let broken = 0;
  for (let j = n - 1; j >= 0; j--) {
    result[j] =
      feed[j]! + fragments.gain[j]! * broken - (leaving[j]! + breakage[j]! * fragments.escaping[j]!) * h[j]!;
    broken += fragments.source[j]! * breakage[j]! * h[j]!;
  }
  return result;
}

describe('the time equation started empty comes to rest in the steady state', () => {
  test('the pilot case', () => {
    const state = solve(PILOT);
    if (state.status !== 'steady') throw new Error('choked');
    const rest = holdUpAtRest(PILOT, 800);
    close(rest.circulating, state.circulating, 1e-6);
  });
  test('beside a fold it is the lower of the two roots', () => {
    const c = changed(PILOT, {
      air: { flow: 1400 / 3600 },
      wheel: WHEELS['medium-radial'],
      coefficients: { bypassLoading: 0.3 },
      settings: { rotorSpeed: 5000 * rpm, wheelSpeed: 2400 * rpm, feedRate: 240 / 3600 },
      loop: { chokeLoad: 14 },
    });
    const state = solve(c);
    if (state.status !== 'steady') throw new Error('choked');
    close(holdUpAtRest(c, 2000).circulating, state.circulating, 1e-5);
  });
  test('random cases', () => {
    const random = uniform(99);
    let compared = 0;
    while (compared < 6) {
      const c = wideCase(random);
      const state = solve(c);
      if (state.status === 'choked' || state.circulating > 12 * c.settings.feedRate) continue;
      const rest = holdUpAtRest(c, 1500);
      if (rest.slope > 1e-6 * c.settings.feedRate) continue;
      close(rest.circulating, state.circulating, 1e-4);
      compared++;
    }
    expect(compared).toBe(6);
  });
});
