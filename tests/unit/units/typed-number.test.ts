import { expect, test } from 'vitest';
import { typedNumber } from '../../../src/scenario/units/typed-number.ts';

test.each([
  ['300', 'kg/h', 300],
  [' 300 kg/h ', 'kg/h', 300],
  ['0.3 t/h', 'kg/h', 300],
  ['2 in', 'mm', 50.8],
  ['40 °C', 'degC', 40],
  ['1.2e3', 'rpm', 1200],
  ['−5', 'degC', -5],
  ['75 µm', 'mm', 0.075],
])('%s in a field of %s', (text, unit, value) => {
  const typed = typedNumber(text, unit);
  expect(typed).toHaveProperty('value');
  expect((typed as { value: number }).value).toBeCloseTo(value, 9);
});

test.each([
  ['', 'kg/h', 'write a number with a decimal point, e.g. 150 kg/h'],
  ['fast', 'rpm', 'write a number with a decimal point, e.g. 150 rpm'],
  ['1,5', 'm/s', 'use a decimal point and no thousands separator: 1,5'],
  ['1 500', 'rpm', 'use a decimal point and no thousands separator: 1 500'],
  ['300 mm', 'kg/h', '"mm" is not a unit of this number; write 150 kg/h'],
  ['25 Hz', 'rpm', 'Hz is the frequency of a drive, not of the shaft; write 150 rpm'],
  ['300 toString', 'kg/h', '"toString" is not a unit of this number; write 150 kg/h'],
])('"%s" in a field of %s is refused', (text, unit, fault) => {
  expect(typedNumber(text, unit)).toEqual({ fault });
});
