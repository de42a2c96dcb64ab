import { describe, expect, test } from 'vitest';
import { solve } from '../../src/model/loop/solve.ts';
import { changed, PILOT, rpm, WHEELS } from '../cases.ts';
import { close } from '../close.ts';
import { scan } from '../reference/scan.ts';

/** A case with a true fold (eq. 26c), λ_max raised so that both roots lie below it. */
const fold = (kilogramsPerHour: number) =>
  changed(PILOT, {
    air: { flow: 1400 / 3600 },
    wheel: WHEELS['medium-radial'],
    coefficients: { bypassLoading: 0.3 },
    settings: { rotorSpeed: 5000 * rpm, wheelSpeed: 2400 * rpm, feedRate: kilogramsPerHour / 3600 },
    loop: { chokeLoad: 14 },
  });

describe('choking', () => {
  test('a fold: two roots at 240 kg/h, the lower one reached from empty; none at 290', () => {
    const state = solve(fold(240));
    if (state.status !== 'steady') throw new Error('choked');
    const { crossings } = scan(fold(240), 4000);
    close(state.circulating, crossings[0]![1], 2e-3);
    const above = solve(fold(290));
    if (above.status !== 'choked') throw new Error('steady');
    expect(above.reason).toBe('fold');
    expect(scan(fold(290), 4000).crossings).toEqual([]);
  });
  test('the feed at choke is where steadiness ends, within 1 %, and the same from both sides', () => {
    const { feedAtChoke } = solve(fold(240));
    close(solve(fold(290)).feedAtChoke, feedAtChoke, 1e-2);
    const at = (share: number) => solve(fold(feedAtChoke * 3600 * share)).status;
    expect(at(0.99)).toBe('steady');
    expect(at(1.01)).toBe('choked');
  });
  test('the pilot meets its assumed load limit, and the message names it', () => {
    const state = solve(changed(PILOT, { settings: { feedRate: 1000 / 3600 } }));
    if (state.status !== 'choked') throw new Error('steady');
    expect(state.reason).toBe('load');
    expect(state.message).toContain('10 kg');
  });
  test('a nearly perfect wheel on particles below their grind limit names that', () => {
    const c = changed(PILOT, {
      coefficients: { sharpness: 0.95, sharpnessLoading: 0, bypass: 0, bypassLoading: 0, leakage: 0 },
      material: { selection: { law: 'impact', friability: 0.9, threshold: 0.6 } },
    });
    const state = solve(c);
    if (state.status !== 'choked') throw new Error('steady');
    expect(state.reason).toBe('grind limit');
  });
  test('feed finer than the cut passes unbroken', () => {
    const c = changed(PILOT, {
      feed: { law: 'log-normal', x50: 3e-6, spread: 0.15 },
      coefficients: { bypass: 0, bypassLoading: 0 },
    });
    const state = solve(c);
    if (state.status !== 'steady') throw new Error('choked');
    close(state.circulating / c.settings.feedRate, 1, 2e-3);
    const [own] = state.components;
    const moved = own!.product.reduce((sum, p, i) => sum + Math.abs(p - own!.feed[i]!), 0);
    expect(moved / c.settings.feedRate).toBeLessThan(1e-3);
  });
  test('an open circuit passes once, whatever the wheel', () => {
    const state = solve(changed(PILOT, { loop: { circuit: 'open' } }));
    if (state.status !== 'steady') throw new Error('choked');
    close(state.circulating, PILOT.settings.feedRate, 1e-12);
  });
  test('internal and external recycle at equal hits are the same equation', () => {
    const inside = solve(PILOT);
    const outside = solve(changed(PILOT, { loop: { circuit: 'external' } }));
    if (inside.status !== 'steady' || outside.status !== 'steady') throw new Error('choked');
    close(outside.circulating, inside.circulating, 1e-14);
  });
});
