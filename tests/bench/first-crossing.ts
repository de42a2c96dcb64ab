import { massClosure } from '../../src/model/loop/mass-balance.ts';
import { solve } from '../../src/model/loop/solve.ts';
import { uniform, wideCase } from '../reference/random-cases.ts';
import { scan } from '../reference/scan.ts';

/** What a large number of wide random cases shows. */
export interface FirstCrossings {
  readonly cases: number;
  readonly steady: number;
  readonly choked: number;
  /** Cases where solve and dense scan disagree. */
  readonly disagreements: number;
  readonly worstClosure: number;
  readonly notFinite: number;
}

/** Solves and scans random cases, each choked one again just inside and outside where it chokes. */
export function countFirstCrossings(cases: number, points: number, seed = 31): FirstCrossings {
  const random = uniform(seed);
  const count = { cases: 0, steady: 0, choked: 0, disagreements: 0, worstClosure: 0, notFinite: 0 };
  while (count.cases < cases) {
    const c = wideCase(random);
    const shares = [1];
    const first = solve(c);
    if (first.status === 'choked' && first.feedAtChoke > 1e-9 * c.settings.feedRate) {
      const at = first.feedAtChoke / c.settings.feedRate;
      shares.push(0.995 * at, 1.005 * at);
    }
    for (const share of shares) {
      const tried = { ...c, settings: { ...c.settings, feedRate: share * c.settings.feedRate } };
      const state = solve(tried, { choke: false });
      const found = scan(tried, points);
      count.cases++;
      if (state.status === 'steady') {
        count.steady++;
        count.worstClosure = Math.max(count.worstClosure, massClosure(state));
        if (!found.agrees(state.circulating)) count.disagreements++;
        if (!state.components.every(({ product }) => product.every((p) => p >= 0 && Number.isFinite(p))))
          count.notFinite++;
      } else {
        count.choked++;
        if (found.crossings.length > 0) count.disagreements++;
      }
    }
  }
  return count;
}
