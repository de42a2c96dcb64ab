import { expect, test } from 'vitest';
import { SELECTION_LAWS } from '../../src/model/breakage/selection/index.ts';
import { exampleOf } from '../../src/model/conformance/example.ts';
import { selectionFaults } from '../../src/model/conformance/selection-conformance.ts';

test.each(Object.entries(SELECTION_LAWS))('selection law %s conforms', (name, law) => {
  expect(law.name).toBe(name);
  expect(selectionFaults(law)).toEqual([]);
});

test('the impact law warns above the speeds single particles were tested at', () => {
  const law = SELECTION_LAWS.impact!;
  const hit = (speed: number) => ({ speed, energy: speed ** 2 / 2 });
  expect(law.outside(exampleOf(law), hit(80))).toEqual([]);
  expect(law.outside(exampleOf(law), hit(250))).toHaveLength(1);
});
