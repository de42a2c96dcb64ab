import { expect, test } from 'vitest';
import { DESIGNS } from '../../src/scenario/design/designs.ts';
import { designFaults } from '../../src/scenario/outside/design-rules.ts';

test.each(DESIGNS)('design $name conforms', (design) => {
  expect(designFaults(design)).toEqual([]);
});
