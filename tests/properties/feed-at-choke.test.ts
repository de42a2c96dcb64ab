import { expect, test } from 'vitest';
import type { Case } from '../../src/model/case.ts';
import { solve } from '../../src/model/loop/solve.ts';
import { uniform, wideCase } from '../reference/random-cases.ts';

const at = (c: Case, feedRate: number): Case => ({ ...c, settings: { ...c.settings, feedRate } });
const runs = (c: Case, feedRate: number): boolean =>
  solve(at(c, feedRate), { choke: false }).status === 'steady';

/** The highest feed that runs, halving the interval between one that does and one that does not; undefined where neither shows. */
function byBisection(c: Case, near: number): number | undefined {
  let [low, high] = [near, near];
  for (let k = 0; !runs(c, low); k++) {
    if (k === 40) return undefined;
    low /= 1.3;
  }
  for (let k = 0; runs(c, high); k++) {
    if (k === 40) return undefined;
    high *= 1.3;
  }
  // to 2e-5, where an answer may be 1e-2 away
  for (let k = 0; k < 14; k++) {
    const middle = Math.sqrt(low * high);
    if (runs(c, middle)) low = middle;
    else high = middle;
  }
  return low;
}

test('the feed at choke is where steadiness ends, within 1 % from any feed, steady or choked', () => {
  const random = uniform(20261130);
  let compared = 0;
  let worst = 0;
  let sum = 0;
  for (let i = 0; i < 80; i++) {
    const c = wideCase(random);
    const first = solve(c).feedAtChoke;
    if (!(first > 1e-9 * c.settings.feedRate)) continue;
    const truth = byBisection(c, first);
    if (truth === undefined) continue;
    for (const share of [1e-3, 0.03, 0.3, 0.9, 1.2, 4]) {
      const error = Math.abs(solve(at(c, share * truth)).feedAtChoke / truth - 1);
      compared++;
      sum += error;
      worst = Math.max(worst, error);
      expect(error, `case ${i} asked at ${share} of its choke`).toBeLessThan(1e-2);
    }
  }
  console.info(
    `feed at choke: ${compared} looks, mean error ${((100 * sum) / compared).toFixed(3)} %, worst ${(100 * worst).toFixed(2)} %`,
  );
  expect(compared).toBeGreaterThan(200);
});
test('the look at the choke leaves no trace in the state', () => {
  const random = uniform(7);
  for (let i = 0; i < 40; i++) {
    const c = wideCase(random);
    const [seen, unseen] = [solve(c), solve(c, { choke: false })];
    expect(seen.status).toBe(unseen.status);
    // on two grids the last bit may differ
    for (const [name, value] of Object.entries(seen.conditions)) {
      const other = (unseen.conditions as unknown as Record<string, number>)[name]!;
      expect(Math.abs((value as number) - other), name).toBeLessThanOrEqual(1e-12 * Math.abs(other));
    }
    if (seen.status !== 'steady' || unseen.status !== 'steady') continue;
    seen.components[0]!.product.forEach((flow, k) => {
      const other = unseen.components[0]!.product[k]!;
      expect(Math.abs(flow - other)).toBeLessThanOrEqual(1e-11 * Math.abs(other) + 1e-300);
    });
  }
});
