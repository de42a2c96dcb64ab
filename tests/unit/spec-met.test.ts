import { expect, test } from 'vitest';
import { isMet } from '../../src/scenario/outcome/spec.ts';
import { read } from './scenario/reading.ts';

test('a margin that is no finite number never meets a requirement', () => {
  const { spec } = read({ spec: '[ "x50 >= 20 um", "x97 < 75 um" ]' });
  const met = (margin: number) => spec.map((requirement) => isMet(requirement, margin));
  expect(met(1e-6)).toEqual([true, true]);
  expect(met(0)).toEqual([true, false]);
  expect(met(-1e-6)).toEqual([false, false]);
  for (const margin of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])
    expect(met(margin)).toEqual([false, false]);
});
