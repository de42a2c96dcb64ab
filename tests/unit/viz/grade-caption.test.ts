import { expect, test } from 'vitest';
import { captionOf } from '../../../src/viz/figures/grade.ts';

test.each([
  [0, '50'],
  [0.0738, '46.3'],
  [0.2, '40'],
])('with a bypass of %s, %s %% of the particles of the cut size leave', (bypass, leaves) => {
  const line = { cut: 42.2, sharpness: 0.56, bypass } as never as Parameters<typeof captionOf>[0][number];
  expect(captionOf([line])).toMatch(
    `Of the particles of the cut size, 42.2 µm, ${leaves} % leave; coarser ones`,
  );
});
