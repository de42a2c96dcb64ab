import { expect, test } from 'vitest';
import { countKills } from '../../bench/kills.ts';

/** `npm run bench -- --kills 100` does the same a hundred times. */
test('killed at random while sweeping, joining, exporting, reporting and fitting: nothing lost', async () => {
  const { kills, finished, struck, ...faults } = await countKills(6, 3, 2000);
  expect(kills + finished).toBeGreaterThanOrEqual(6);
  expect(faults).toEqual({ broken: 0, lost: 0, different: 0, leftover: 0 });
}, 300_000);
