import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { massClosure } from '../../src/model/loop/mass-balance.ts';
import { solve } from '../../src/model/loop/solve.ts';
import { sizeAt } from '../../src/model/psd/curve.ts';
import { productCurve } from '../../src/scenario/outcome/solved.ts';
import type { StrangeCase } from '../bench/strange.ts';
import { changed, PILOT } from '../cases.ts';
import { close } from '../close.ts';
import { scan } from '../reference/scan.ts';

/** The hundred strangest of 100 000 random settings; `npm run bench -- --strange 100000 --json FILE` finds them anew. */
const STRANGE = JSON.parse(
  readFileSync(new URL('../fixtures/strange-settings.json', import.meta.url), 'utf8'),
) as StrangeCase[];
const SCANNED = 3000;
/** A choke is looked for within 1 % of its feed. */
const EDGE = 0.01;

test('there are a hundred, of both kinds', () => {
  expect(STRANGE).toHaveLength(100);
  expect(STRANGE.filter(({ status }) => status === 'steady').length).toBeGreaterThan(50);
  expect(new Set(STRANGE.map(({ reason }) => reason))).toEqual(
    new Set([undefined, 'load', 'fold', 'grind limit']),
  );
});

describe.each(STRANGE.map((one, i) => ({ ...one, i })))('$i: $why', (one) => {
  const c = changed(PILOT, one.change);
  const state = solve(c);
  const found = scan(c, SCANNED);

  test('comes to what it came to', () => {
    expect(state.status).toBe(one.status);
    if (one.toChoke > 1e-9) close(state.feedAtChoke / c.settings.feedRate, one.toChoke, EDGE);
    if (state.status === 'choked') {
      expect(state.reason).toBe(one.reason);
      return;
    }
    close(state.circulating / c.settings.feedRate, one.passes!, 1e-6);
    close(sizeAt(productCurve(state), 0.5), one.x50!, 1e-6);
    close(sizeAt(productCurve(state), 0.95), one.x95!, 1e-6);
  });

  test('is the state reached from empty, by a dense scan', () => {
    if (state.status === 'choked') expect(found.crossings).toEqual([]);
    else expect(found.agrees(state.circulating)).toBe(true);
  });

  test('closes, is finite, and its curves rise', () => {
    for (const value of Object.values(state.conditions)) expect(Number.isFinite(value)).toBe(true);
    expect(state.feedAtChoke).toBeGreaterThanOrEqual(0);
    if (state.status === 'choked') {
      expect(state.message.length).toBeGreaterThan(10);
      expect(state.message).not.toMatch(/NaN|undefined|Infinity/);
      return;
    }
    expect(massClosure(state)).toBeLessThan(1e-12);
    for (const { product, arriving, leaving } of state.components) {
      for (const flow of [product, arriving])
        expect([...flow].every((value) => value >= 0 && Number.isFinite(value))).toBe(true);
      expect([...leaving].every((share) => share >= 0 && share <= 1)).toBe(true);
    }
    const curve = productCurve(state);
    let before = 0;
    for (const share of [0.001, 0.01, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.97, 0.99, 0.999]) {
      const size = sizeAt(curve, share);
      // what is finer than the first class has no size, and nothing above it lacks one
      if (Number.isNaN(size)) expect(before).toBe(0);
      else {
        expect(size).toBeGreaterThanOrEqual(before);
        before = size;
      }
    }
  });
});
