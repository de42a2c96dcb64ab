import { expect, test } from 'vitest';
import { efficiencyFaults } from '../../src/model/conformance/efficiency-conformance.ts';
import { EFFICIENCY_LAWS } from '../../src/model/wheel/efficiency/index.ts';

test.each(Object.entries(EFFICIENCY_LAWS))('efficiency law %s conforms', (name, law) => {
  expect(law.name).toBe(name);
  expect(efficiencyFaults(law)).toEqual([]);
});
