import { describe, expect, test } from 'vitest';
import { tabulateFragments } from '../../../src/model/loop/prepared-materials.ts';
import { solve } from '../../../src/model/loop/solve.ts';
import { autoregressive, lagged, normalNumbers, uniformNumbers } from '../../../src/model/time/noise.ts';
import { millInTime, type TimeSystem } from '../../../src/model/time/system.ts';
import { advance, backwardEuler, circulatingOf, emptyState } from '../../../src/model/time/time-step.ts';
import { shareSpread } from '../../../src/plant/feeder.ts';
import { changed, PILOT } from '../../cases.ts';
import { close } from '../../close.ts';
import { gridOf } from '../../grid.ts';

/** Sharp wheel at x_c = 0.25, K = x, r = 1/τ = 2, F = 1, coarse feed (eq. V7, derived). */
function sharpWheel(): TimeSystem & { readonly edges: readonly number[] } {
  const edges = [1e-3, 0.01, 0.05, 0.125, 0.25, 0.4, 0.7, 1];
  const grid = gridOf(edges);
  const { sizes, classes: n } = grid;
  const feed = new Float64Array(n);
  feed[n - 1] = 1;
  const component = {
    fragments: tabulateFragments(grid, { law: 'power', exponent: 1 }),
    feed,
    leaving: sizes.map((x) => (x < 0.25 ? 1 : 0)),
    breakage: sizes.map((x) => x / 2),
  };
  return {
    components: [component],
    loopTime: 0.5,
    fillFeed: (_, rates) => rates.fill(1),
    setRates: () => {},
    edges,
  };
}

/** Hold-up M = h τ after a time, by n steps. */
function holdUp(until: number, steps: number): number {
  const system = sharpWheel();
  const state = emptyState(system);
  for (let i = 0; i < steps; i++) advance(system, state, (i * until) / steps, until / steps);
  return circulatingOf(state.arriving) * system.loopTime;
}

const EXACT = [
  [1, 0.9494346548],
  [4, 2.8182893734],
  [20, 4.4691979566],
] as const;

describe('the balance in time (eq. 27)', () => {
  test('exact hold-up from empty, at converged steps, to 1e-8', () => {
    for (const [t, wanted] of EXACT) {
      const [coarse, fine] = [holdUp(t, 4000 * t), holdUp(t, 8000 * t)];
      close(fine + (fine - coarse) / 3, wanted, 1e-8);
    }
  });
  test('order two', () => {
    const errors = [20, 40, 80, 160].map((steps) => Math.abs(holdUp(4, steps) - 2.8182893734));
    const order = Math.log2(errors[2]! / errors[3]!);
    console.info(
      `time steps: errors ${errors.map((e) => e.toExponential(2)).join(', ')}; order ${order.toFixed(2)}`,
    );
    expect(order).toBeGreaterThan(1.9);
    expect(order).toBeLessThan(2.1);
  });
  test('above the cut backward Euler gives (1 − (1 + KΔt)^−n)/K to round-off', () => {
    const system = sharpWheel();
    const state = emptyState(system);
    const step = 0.1;
    for (let i = 0; i < 30; i++)
      backwardEuler(system, state, system.components, Float64Array.of(1), step / system.loopTime);
    const above = (x: number) =>
      state.arriving[0]!.reduce((sum, h, i) => sum + (system.edges[i]! >= x ? h * system.loopTime : 0), 0);
    for (const x of [0.25, 0.4, 0.7]) close(above(x), (1 - (1 + x * step) ** -30) / x, 1e-13);
  });
  test('run to rest equals the steady state to 1e-9, also with two components', () => {
    const [component] = PILOT.components;
    const two = {
      ...PILOT,
      components: [
        { ...component!, share: 0.8 },
        { ...component!, share: 0.2, material: { ...component!.material, density: 2400 } },
      ],
    };
    for (const c of [
      PILOT,
      two,
      changed(PILOT, { material: { fragments: { law: 'truncated-exponential' } } }),
    ]) {
      const wanted = solve(c);
      if (wanted.status !== 'steady') throw new Error('choked');
      const system = millInTime(c, (_, k) => c.settings.feedRate * c.components[k]!.share);
      const state = emptyState(system);
      for (let i = 0; i < 6000; i++) advance(system, state, i * 0.05, 0.05);
      close(circulatingOf(state.arriving), wanted.circulating, 1e-9);
    }
  });
  test('a feed trip empties the mill and nothing goes negative', () => {
    const system = millInTime(PILOT, (t) => (t < 5 ? PILOT.settings.feedRate : 0));
    const state = emptyState(system);
    for (let i = 0; i < 400; i++) {
      advance(system, state, i * 0.5, 0.5);
      expect(state.arriving[0]!.every((h) => h >= 0)).toBe(true);
    }
    expect(circulatingOf(state.arriving)).toBeLessThan(1e-4 * PILOT.settings.feedRate);
  });
});

describe('noise (eq. 27b) through a first-order hold-up (eq. 27a)', () => {
  const N = 400_000;
  /** Variance out over variance in, of a hold-up of τ = 10 with Δt = 1. */
  function varianceRatio(next: () => number): number {
    let [held, sumIn, sumOut] = [0, 0, 0];
    for (let i = 0; i < N + 500; i++) {
      const input = next();
      held = lagged(held, input, 1, 10);
      if (i < 500) continue;
      sumIn += input * input;
      sumOut += held * held;
    }
    return sumOut / sumIn;
  }
  test('T1 white noise (derived)', () => {
    const a = Math.exp(-0.1);
    close((1 - a) / (1 + a), 0.0499584, 1e-6);
    const normal = normalNumbers(uniformNumbers(1));
    close(varianceRatio(normal), 0.0499584, 0.02);
  });
  test('T2 autoregressive noise, φ 0.9 (derived)', () => {
    const a = Math.exp(-0.1);
    close((((1 - a) / (1 + a)) * (1 + 0.9 * a)) / (1 - 0.9 * a), 0.488252, 1e-6);
    const noise = autoregressive(1, -1 / Math.log(0.9), normalNumbers(uniformNumbers(2)));
    close(
      varianceRatio(() => noise(1)),
      0.488252,
      0.04,
    );
  });
  test('T3 a sine of 60 s through 30 s (derived)', () => {
    close(1 / Math.hypot(1, (2 * Math.PI * 30) / 60), 0.303314, 2e-6); // six figures printed
    let [held, largest] = [0, 0];
    for (let i = 0; i < 60_000; i++) {
      held = lagged(held, Math.sin((2 * Math.PI * (i + 0.5) * 0.01) / 60), 0.01, 30);
      if (i > 40_000) largest = Math.max(largest, Math.abs(held));
    }
    close(largest, 0.303314, 1e-4);
  });
  test('T4 (eq. P5) two feeders 80/20 with 2 % and 3 % noise: spread of the share (derived)', () => {
    close(shareSpread(0.8, 0.02, 0.03), 0.00576888, 1e-6);
    const normal = normalNumbers(uniformNumbers(3));
    let [sum, squares] = [0, 0];
    for (let i = 0; i < 200_000; i++) {
      const first = 0.8 * (1 + 0.02 * normal());
      const share = first / (first + 0.2 * (1 + 0.03 * normal()));
      sum += share;
      squares += share * share;
    }
    const mean = sum / 200_000;
    close(Math.sqrt(squares / 200_000 - mean * mean), 0.00576888, 0.01);
  });
});
