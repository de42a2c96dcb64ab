import { describe, expect, test } from 'vitest';
import { designNamed } from '../../../src/scenario/design/designs.ts';
import type { Factor } from '../../../src/scenario/scenario.ts';
import { type Sensitivity, sensitivityOf } from '../../../src/search/sensitivity/sensitivity.ts';
import type { Column } from '../../../src/sweep/study/column.ts';
import { PILOT_SCENARIO } from '../../workers/sweep/pilot.ts';

type Function = (x: readonly number[]) => number;

/** Factors x0, x1 … over a range. */
function factorsOver(count: number, from: number, to: number, steps = 0): Factor[] {
  const range = { kind: 'number', from, to, scale: 'linear', integer: false, shownIn: '1' } as const;
  return Array.from({ length: count }, (_, j) => ({ ...range, path: `x${j}`, ...(steps > 0 && { steps }) }));
}

/** Sensitivity of a known function over the points of a design. */
function analyse(
  design: string,
  factors: readonly Factor[],
  f: Function,
  points?: number,
  seed = 1,
): Sensitivity {
  const compiled = designNamed(design).compile({
    factors,
    seed,
    base: new Float64Array(factors.length),
    activity: () => factors.map(() => true),
    ...(points === undefined ? {} : { points }),
  });
  const columns: Column[] = factors.map(({ path }) => ({
    name: path,
    role: 'factor',
    of: path,
    unit: '1',
    symbol: '',
    meaning: '',
  }));
  const n = compiled.size;
  const index = Float64Array.from({ length: n }, (_, i) => i);
  const values = Object.fromEntries(
    [...columns.map(({ name }) => name), 'y'].map((name) => [name, new Float64Array(n)]),
  );
  const at = new Float64Array(factors.length);
  for (let i = 0; i < n; i++) {
    compiled.fill(i, at);
    columns.forEach(({ name }, j) => {
      values[name]![i] = at[j]!;
    });
    values.y![i] = f([...at]);
  }
  const study = { scenario: PILOT_SCENARIO, plan: { design, factors }, quantities: [], curves: false };
  return sensitivityOf({ study, columns }, { index, values }, 'y');
}

function expectKnown(
  found: Sensitivity,
  first: readonly number[],
  total: readonly number[],
  width: number,
): void {
  found.factors.forEach(({ factor, indices }, i) => {
    for (const [kind, known] of [
      ['first', first[i]!],
      ['total', total[i]!],
    ] as const) {
      const { value, low, high } = indices![kind];
      const text = `${kind} of ${factor}: ${low} … ${value} … ${high}, known ${known}`;
      expect(known >= low - 1e-12 && known <= high + 1e-12, text).toBe(true);
      expect(low <= value && value <= high, text).toBe(true);
      expect(high - low, text).toBeLessThan(width);
    }
  });
}

// Ishigami & Homma, Proc. ISUMA (1990) 398: f = sin x1 + a sin² x2 + b x3⁴ sin x1 over (−π, π), a = 7, b = 0.1.
// The variances are integrals done by hand (`derived`): V1 = ½(1 + bπ⁴/5)², V2 = a²/8, V13 = 8b²π⁸/225; with them
// S = 0.3139, 0.4424, 0 and T = 0.5576, 0.4424, 0.2437 as printed in the handbooks of the field.
const ishigami: Function = ([x1, x2, x3]) =>
  Math.sin(x1!) + 7 * Math.sin(x2!) ** 2 + 0.1 * x3! ** 4 * Math.sin(x1!);
const V1 = 0.5 * (1 + (0.1 * Math.PI ** 4) / 5) ** 2;
const V2 = 49 / 8;
const V13 = (8 * 0.01 * Math.PI ** 8) / 225;
const V = V1 + V2 + V13;
const FIRST = [V1 / V, V2 / V, 0];
const TOTAL = [(V1 + V13) / V, V2 / V, V13 / V];

describe('the Ishigami function', () => {
  test('has the indices printed for it', () => {
    const printed = [...FIRST, ...TOTAL].map((share) => Number(share.toFixed(4)));
    expect(printed).toEqual([0.3139, 0.4424, 0, 0.5576, 0.4424, 0.2437]);
  });

  test.each([
    ['sensitivity', 4000 * 5, 0.12],
    ['sobol', 4096, 0.12],
    ['latin-hypercube', 4000, 0.12],
  ])('is known within its bounds from a %s design', (design, points, width) => {
    for (const seed of [1, 2, 3]) {
      const found = analyse(design, factorsOver(3, -Math.PI, Math.PI), ishigami, points, seed);
      expectKnown(found, FIRST, TOTAL, width);
      expect(found.notes).toEqual([]);
    }
  });

  test('is known within its bounds from a grid, whose own levels it describes exactly', () => {
    const steps = 24;
    const half = Math.PI / steps;
    const found = analyse('grid', factorsOver(3, -Math.PI + half, Math.PI - half, steps), ishigami);
    expectKnown(found, FIRST, TOTAL, 0.45);
    found.factors.forEach(({ indices }, i) => {
      expect(Math.abs(indices!.first.value - FIRST[i]!)).toBeLessThan(0.005);
      expect(Math.abs(indices!.total.value - TOTAL[i]!)).toBeLessThan(0.005);
    });
  });

  test('has its main effects: sine in x1, its square in x2, none in x3', () => {
    const found = analyse('sobol', factorsOver(3, -Math.PI, Math.PI), ishigami, 8192);
    const [one, two, three] = found.factors.map(({ effect }) => effect);
    const scale = 1 + (0.1 * Math.PI ** 4) / 5;
    for (const { at, mean, low, high } of one!) {
      const slice = Math.PI / 12;
      const known = (scale * Math.sin(at) * Math.sin(slice)) / slice + 3.5;
      expect(known > low && known < high, `${at}: ${low} ${mean} ${high}, known ${known}`).toBe(true);
    }
    expect(Math.max(...two!.map(({ mean }) => mean))).toBeGreaterThan(6);
    expect(Math.max(...three!.map(({ mean }) => mean - 3.5))).toBeLessThan(0.3);
    expect(one!.reduce((sum, { count }) => sum + count, 0)).toBe(8192);
  });
});

// The g function of Sobol', ∏ (|4x − 2| + a)/(1 + a), with a = 0, 1, 4.5, 9 (Saltelli & Sobol' 1995, recalled); its
// variances are ∏(1 + V_i) − 1 with V_i = 1/(3(1 + a_i)²) (`derived`).
describe("Sobol's g function", () => {
  const a = [0, 1, 4.5, 9];
  const part = a.map((own) => 1 / (3 * (1 + own) ** 2));
  const whole = part.reduce((product, own) => product * (1 + own), 1) - 1;
  const first = part.map((own) => own / whole);
  const total = part.map(
    (own, i) =>
      (own * part.filter((_, j) => j !== i).reduce((product, other) => product * (1 + other), 1)) / whole,
  );
  const g: Function = (x) =>
    x.reduce((product, own, i) => (product * (Math.abs(4 * own - 2) + a[i]!)) / (1 + a[i]!), 1);

  test.each([
    ['sensitivity', 4096 * 6, 0.1],
    ['sobol', 4096, 0.3],
  ])('is known within its bounds from a %s design', (design, points, width) => {
    const found = analyse(design, factorsOver(4, 0, 1), g, points);
    expectKnown(found, first, total, width);
  });
});

describe('names and gaps', () => {
  const wheel: Factor = { kind: 'levels', path: 'wheel', levels: ['a', 'b', 'c'], shownIn: '1' };
  const additive: Function = ([name, u]) => [0, 3, 6][name!]! + 2 * u!;
  // Var of 0, 3, 6 is 6; of 2u over 0…1 it is 4/12: a sum has no interaction (`derived`).
  const shares = [6 / (6 + 1 / 3), 1 / 3 / (6 + 1 / 3)];

  test.each(['sensitivity', 'sobol'])('a name and a number share the variance of their sum: %s', (design) => {
    const found = analyse(design, [wheel, ...factorsOver(1, 0, 1)], additive, 3 * 1024);
    expectKnown(found, shares, shares, 0.15);
    expect(found.factors[0]!.effect.map(({ at }) => at)).toEqual([0, 1, 2]);
  });

  test('a grid gives the shares of its own levels to round-off', () => {
    const found = analyse('grid', [wheel, ...factorsOver(1, 0, 1, 5)], additive);
    const own = [6 / 6.5, 0.5 / 6.5];
    found.factors.forEach(({ indices }, i) => {
      expect(Math.abs(indices!.first.value / own[i]! - 1)).toBeLessThan(1e-12);
      expect(Math.abs(indices!.total.value / own[i]! - 1)).toBeLessThan(1e-12);
    });
  });

  test('points without a value are left out and counted', () => {
    const holed: Function = ([u, v]) => (u! > 0.9 && v! > 0.9 ? Number.NaN : u! + 2 * v!);
    for (const design of ['sensitivity', 'sobol']) {
      const found = analyse(design, factorsOver(2, 0, 1), holed, 4096);
      expect(found.without).toBeGreaterThan(20);
      expect(found.used + found.without).toBe(4096);
      expect(found.notes.at(-1)).toMatch(/^(0\.9|1|1\.\d) % of the points have no value/);
      for (const [i, known] of [0.2, 0.8].entries()) {
        expect(Math.abs(found.factors[i]!.indices!.first.value - known)).toBeLessThan(0.05);
      }
    }
  });

  test('a grid with points missing says where a share alone exceeds its total', () => {
    // y = x1 over the rows where x1 and x2 are close: x2 tells most of y, yet changes nothing with x1 held
    const near: Function = ([a, b]) => (Math.abs(a! - b!) < 0.26 ? a! : Number.NaN);
    const tied = analyse('grid', factorsOver(2, 0, 1, 5), near);
    const second = tied.factors[1]!.indices!;
    expect(second.first.value).toBeGreaterThan(0.5);
    expect(second.total.value).toBeLessThan(1e-12);
    expect(tied.notes.join()).toMatch(
      /choked points make the factors correlated: a factor's first-order index may exceed its total index/,
    );
    const whole = analyse('grid', factorsOver(2, 0, 1, 5), ([a]) => a!);
    expect(whole.notes).toEqual([]);
  });
  test('one factor at a time gives main effects and says why no indices', () => {
    const found = analyse('one-at-a-time', factorsOver(2, 0, 1, 5), ([u, v]) => u! + v!);
    expect(found.factors.every(({ indices }) => indices === undefined)).toBe(true);
    expect(found.notes[0]).toMatch(/main effects only/);
    expect(found.factors[0]!.effect.length).toBe(5);
  });

  test('a quantity that does not vary has no shares, and says so', () => {
    const found = analyse('sobol', factorsOver(2, 0, 1), () => 4, 64);
    expect(found.notes[0]).toMatch(/does not vary/);
  });
});
