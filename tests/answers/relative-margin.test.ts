import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { standingAt, standingOf } from '../../src/answers/standing.ts';
import { verdictOf } from '../../src/answers/verdict.ts';
import { withValue } from '../../src/scenario/operating-point.ts';
import { relativeMargin, scaleOfLimit } from '../../src/scenario/outcome/relative-margin.ts';
import { expressionValue, isMet } from '../../src/scenario/outcome/spec.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { demo, requirement, requiring } from './cases.ts';

const INLET = 293.15;
const NO_ODDS = { samples: 1, meets: [true], choked: 0, lines: [] };

describe('the scale a margin is held against', () => {
  test.each([
    // shares of the product: the smaller of the share and the rest of the whole
    ['passing(75 um) >= 95 %', 0.95, 0.05],
    ['oversize(75 um) <= 5 %', 0.05, 0.05],
    ['passing(10 um) <= 25 %', 0.25, 0.25],
    ['passing(75 um) - passing(10 um) >= 80 %', 0.8, 0.2],
    // temperatures: the rise above the inlet air at 20 °C
    ['outletTemperature <= 50 degC', 323.15, 30],
    // everything else: the limit itself
    ['motorLoad <= 90 %', 0.9, 0.9],
    ['x50 >= 20 um', 20e-6, 20e-6],
    ['feedRate >= 360 kg/h', 0.1, 0.1],
    ['feedMargin >= 0 %', 0, 1],
  ])('%s', (text, limit, scale) => {
    expect(scaleOfLimit(requirement(text), limit, INLET)).toBeCloseTo(scale, 12);
  });

  test('a limit of the whole or at the inlet still has one', () => {
    expect(scaleOfLimit(requirement('passing(75 um) >= 100 %'), 1, INLET)).toBe(1e-3);
    expect(scaleOfLimit(requirement('outletTemperature <= 20 degC'), INLET, INLET)).toBe(1);
  });
});

/** Settings about those of the demo case, most of which run. */
const settings = fc.record({
  rotorSpeed: fc.integer({ min: 4200, max: 7000 }),
  wheelSpeed: fc.integer({ min: 1000, max: 3500 }),
  feedRate: fc.integer({ min: 80, max: 450 }),
});

function at(scenario: Scenario, { rotorSpeed, wheelSpeed, feedRate }: Record<string, number>): Scenario {
  return withValue(
    withValue(
      withValue(scenario, 'rotorSpeed', rotorSpeed! / 60, 'shaft'),
      'wheelSpeed',
      wheelSpeed! / 60,
      'shaft',
    ),
    'feedRate',
    feedRate! / 3600,
  );
}

describe('one requirement in two wordings', () => {
  const share = fc.integer({ min: 1, max: 99 });
  const size = fc.integer({ min: 8, max: 150 });

  test('passing ≥ a and oversize ≤ 1 − a have one relative margin, one verdict and one nearest requirement', async () => {
    const base = await demo();
    fc.assert(
      fc.property(settings, share, size, (set, a, x) => {
        const others = ['outletTemperature <= 45 degC', 'motorLoad <= 70 %', 'x50 >= 25 um'];
        const one = at(requiring(base, `passing(${x} um) >= ${a} %`, ...others), set);
        const other = at(requiring(base, `oversize(${x / 1000} mm) <= ${100 - a} %`, ...others), set);
        const [p, q] = [standingOf(one), standingOf(other)];
        if (p.point.status === 'choked') return q.point.status === 'choked';
        expect(q.relative[0]).toBeCloseTo(p.relative[0]!, 6);
        const [v, w] = [verdictOf(one, p, NO_ODDS)!, verdictOf(other, q, NO_ODDS)!];
        if (Math.abs(p.relative[0]!) > 1e-9) expect(w.meets).toBe(v.meets);
        expect(one.spec.findIndex(({ text }) => text === v.nearest!.text)).toBe(
          other.spec.findIndex(({ text }) => text === w.nearest!.text),
        );
        expect(w.fails.length).toBe(v.fails.length);
        return true;
      }),
      { seed: 14, numRuns: 60 },
    );
  });

  test('units and sides do not matter: kg/h and t/h, µm and mm, limit first or last', async () => {
    const base = await demo();
    const pairs = [
      ['feedRate >= 200 kg/h', 'feedRate >= 0.2 t/h'],
      ['x95 <= 75 um', 'x95 <= 0.075 mm'],
      ['x95 <= 75 um', '75 um >= x95'],
      ['passing(75 um) >= 95 %', '95 % <= passing(75 um)'],
      ['outletTemperature <= 50 degC', '50 degC >= outletTemperature'],
      ['rotorPower <= 9 kW', 'rotorPower <= 9000 W'],
    ] as const;
    const { point } = standingOf(base);
    if (point.status === 'choked') throw new Error('the demo runs');
    for (const [one, two] of pairs)
      expect(relativeMargin(requirement(two), point), two).toBeCloseTo(
        relativeMargin(requirement(one), point),
        9,
      );
  });
});

test('margins worked out by hand', async () => {
  const base = await demo();
  const { point } = standingOf(base);
  if (point.status === 'choked') throw new Error('the demo runs');
  const value = (name: string) => expressionValue({ kind: 'quantity', name }, point);
  const load = value('motorLoad');
  expect(relativeMargin(requirement('motorLoad <= 90 %'), point)).toBeCloseTo((0.9 - load) / 0.9, 12);
  const outlet = value('outletTemperature');
  expect(relativeMargin(requirement('outletTemperature <= 50 degC'), point)).toBeCloseTo(
    (323.15 - outlet) / 30,
    12,
  );
  const fine = expressionValue({ kind: 'quantity', name: 'passing', argument: 75e-6 }, point);
  expect(relativeMargin(requirement('passing(75 um) >= 95 %'), point)).toBeCloseTo((fine - 0.95) / 0.05, 12);
});

test('at the limit itself ≥ is met and > is not', () => {
  expect(isMet(requirement('feedRate >= 300 kg/h'), 0)).toBe(true);
  expect(isMet(requirement('feedRate <= 300 kg/h'), 0)).toBe(true);
  expect(isMet(requirement('feedRate > 300 kg/h'), 0)).toBe(false);
  expect(isMet(requirement('feedRate < 300 kg/h'), 0)).toBe(false);
  expect(isMet(requirement('feedRate >= 300 kg/h'), -1e-12)).toBe(false);
  expect(isMet(requirement('feedRate >= 300 kg/h'), Number.NaN)).toBe(false);
});

test('a feed exactly at a requirement meets it with ≥ and not with >', async () => {
  const base = await demo();
  const { point } = standingOf(base);
  expect(standingAt(requiring(base, 'feedRate >= 300 kg/h'), point).meets).toBe(true);
  expect(standingAt(requiring(base, 'feedRate > 300 kg/h'), point).meets).toBe(false);
});
