import { expect, test } from 'vitest';
import { hitWarnings } from '../../../src/scenario/outcome/hit-limits.ts';
import { type Change, changed, PILOT } from '../../cases.ts';

const codes = (change: Change) => hitWarnings(changed(PILOT, change)).map(({ code }) => code);
const message = (change: Change) => hitWarnings(changed(PILOT, change))[0]!.message;
const feed = (x50: number): Change => ({ feed: { law: 'log-normal', x50, spread: 0.35 } });

test('the pilot keeps within the picture of eq. 4', () => {
  expect(codes({})).toEqual([]);
});
test('more than 0.1 % of the feed wider than the gap', () => {
  // a log-normal's 99.9 % lies 3.0902 standard deviations above its median
  const edge = 0.01 * Math.exp(-3.0902 * 0.35);
  expect(codes(feed(0.999 * edge))).toEqual([]);
  expect(codes(feed(1.001 * edge))).toEqual(['feed-above-gap']);
  expect(message(feed(0.01))).toMatch(/^50 % of the feed is wider than the 10 mm between rotor and liner/);
});
test('elements wider than a quarter of the diameter', () => {
  expect(codes({ rotorGeometry: { width: 0.0749, count: 8 } })).toEqual([]);
  expect(codes({ rotorGeometry: { width: 0.0751, count: 8 } })).toEqual(['elements-wide']);
  expect(message({ rotorGeometry: { width: 0.09, count: 8 } })).toContain('90 mm wide, more than a quarter');
});
test('elements closer than their width', () => {
  // π · 300 mm/20 mm = 47.1
  expect(codes({ rotorGeometry: { count: 47 } })).toEqual([]);
  expect(codes({ rotorGeometry: { count: 48 } })).toEqual(['elements-close']);
  expect(message({ rotorGeometry: { count: 60 } })).toContain(
    '60 elements stand 15.7 mm apart and are 20 mm wide',
  );
});
test('so few elements that powder passes between them, whatever the speed', () => {
  // ψ π D/(2 w) = 0.15 · 942.5/40 = 3.53
  const few = { rotorGeometry: { count: 3 } };
  expect(codes({ rotorGeometry: { count: 4 } })).toEqual([]);
  expect(codes(few)).toEqual(['elements-few']);
  expect(message(few)).toContain('use at least 4 elements');
  expect(codes({ ...few, settings: { rotorSpeed: 10 } })).toEqual(['elements-few']);
});
