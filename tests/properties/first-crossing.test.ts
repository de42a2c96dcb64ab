import { describe, expect, test } from 'vitest';
import type { Case } from '../../src/model/case.ts';
import { massClosure } from '../../src/model/loop/mass-balance.ts';
import { solve } from '../../src/model/loop/solve.ts';
import { uniform, wideCase } from '../reference/random-cases.ts';
import { scan } from '../reference/scan.ts';

/** The case itself, and where it chokes four more just inside and outside the fold. */
function around(c: Case): Case[] {
  const state = solve(c);
  // where nothing can leave the chokes' feed is zero, and there is no edge to stand beside
  if (state.status === 'steady' || state.feedAtChoke < 1e-9 * c.settings.feedRate) return [c];
  const at = (share: number): Case => ({
    ...c,
    settings: { ...c.settings, feedRate: state.feedAtChoke * share },
  });
  return [c, at(0.97), at(0.995), at(1.005), at(1.03)];
}

describe('the state reached from empty', () => {
  test('is the first downward crossing found by a dense scan, or a choke where the scan finds none', () => {
    const random = uniform(20261125);
    let steady = 0;
    let choked = 0;
    for (let i = 0; i < 250; i++) {
      for (const c of around(wideCase(random))) {
        const state = solve(c, { choke: false });
        const found = scan(c, 600);
        if (state.status === 'steady') {
          steady++;
          expect(massClosure(state)).toBeLessThan(1e-12);
          expect(state.circulating).toBeGreaterThanOrEqual(c.settings.feedRate * (1 - 1e-12));
          expect(found.agrees(state.circulating), `case ${i}`).toBe(true);
        } else {
          choked++;
          expect(found.crossings, `case ${i}`).toEqual([]);
        }
      }
    }
    expect(steady).toBeGreaterThan(100);
    expect(choked).toBeGreaterThan(100);
  });
});
