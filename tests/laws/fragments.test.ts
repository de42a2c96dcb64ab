import { expect, test } from 'vitest';
import { FRAGMENT_LAWS } from '../../src/model/breakage/fragments/index.ts';
import { fragmentFaults } from '../../src/model/conformance/fragment-conformance.ts';

test.each(Object.entries(FRAGMENT_LAWS))('fragments law %s conforms', (name, law) => {
  expect(law.name).toBe(name);
  expect(fragmentFaults(law)).toEqual([]);
});

test('a two-power law with crossed branches warns', () => {
  const crossed = { law: 'two-power', fineShare: 0.5, fineExponent: 4, coarseExponent: 0.8 };
  expect(FRAGMENT_LAWS['two-power']!.outside(crossed)).toHaveLength(1);
});
