import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { QUANTITIES } from '../../../src/scenario/outcome/quantities.ts';
import {
  formatNumber,
  formatQuantity,
  fromShown,
  isShownUnit,
  shownUnits,
  siUnitOf,
  toShown,
  toShownDifference,
} from '../../../src/scenario/units/display.ts';
import { parseValue, type Value } from '../../../src/scenario/units/parse-quantity.ts';
import { unitMeaning } from '../../../src/scenario/units/unit.ts';
import { close } from '../../close.ts';

const compound = shownUnits().filter((unit) => unit !== '1' && unit !== '%' && unit !== 'ppm');

describe('the table of shown units', () => {
  test.each(compound)('%s agrees with the unit library', (unit) => {
    const meaning = unitMeaning(unit, siUnitOf(unit));
    expect(meaning).not.toHaveProperty('problem');
    const { factor, offset } = meaning as { factor: number; offset: number };
    close(fromShown(1, unit) - fromShown(0, unit), factor, 1e-12);
    close(fromShown(0, unit), offset, 1e-12);
  });

  test.each(shownUnits().filter((unit) => unit !== '1'))(
    '%s: typed and shown again is the same number',
    (unit) => {
      const wanted = { unit: siUnitOf(unit), shownIn: siUnitOf(unit) === 'K' ? 'degC' : 'x' };
      fc.assert(
        fc.property(fc.integer({ min: 1, max: 99_999 }), fc.integer({ min: 0, max: 4 }), (digits, places) => {
          const typed = digits / 10 ** places;
          const { value } = parseValue(`${typed} ${unit}`, wanted) as Value;
          close(toShown(value, unit), typed, unit === 'degC' ? 1e-9 : 1e-14);
        }),
        { seed: 7, numRuns: 60 },
      );
    },
  );

  test('knows the unit of every quantity, of the same kind as its SI unit', () => {
    for (const { name, unit, shownIn } of QUANTITIES) {
      expect(isShownUnit(shownIn), name).toBe(true);
      expect(siUnitOf(shownIn), name).toBe(unit);
    }
  });

  test('has no part of the unit library in it, so that a page can use it', () => {
    const text = readFileSync('src/scenario/units/display.ts', 'utf8');
    expect(text).not.toMatch(/\bimport\b/);
  });
});

describe('numbers as people read them', () => {
  test.each([
    [0.4166667, '0.4167'],
    [1500, '1500'],
    [123456, '123456'],
    [0.1, '0.1'],
    [2, '2'],
    [-0.05, '-0.05'],
    [0, '0'],
    [1.23456e-7, '1.235e-7'],
    [2e-5, '2e-5'],
    [Number.NaN, '–'],
    [Number.POSITIVE_INFINITY, '∞'],
  ])('%d', (value, text) => expect(formatNumber(value)).toBe(text));

  test('with units', () => {
    expect(formatQuantity(75e-6, 'um')).toBe('75 µm');
    expect(formatQuantity(323.15, 'degC')).toBe('50 °C');
    expect(formatQuantity(Math.PI / 6, 'deg')).toBe('30°');
    expect(formatQuantity(2, '1')).toBe('2');
    expect(toShownDifference(16, 'degC')).toBe(16);
  });

  test('an unknown unit is a bug and says so', () => {
    expect(() => toShown(1, 'furlong')).toThrow(/furlong/);
    expect(() => toShown(1, 'toString')).toThrow(/toString/);
  });
});
