import { describe, expect, test } from 'vitest';
import { uniform } from '../reference/random-cases.ts';
import { mutate } from './mutate.ts';
import { TARGETS } from './targets.ts';

describe('mutated input is accepted or refused in words, never a crash', () => {
  test.each(TARGETS)('$name', async ({ seeds, feed }) => {
    const random = uniform(20261125);
    const counts = { accepted: 0, refused: 0 };
    for (let run = 0; run < 400; run++)
      counts[await feed(mutate(seeds[Math.floor(random() * seeds.length)]!, random))]++;
    expect(counts.accepted).toBeGreaterThan(0);
    expect(counts.refused).toBeGreaterThan(0);
  });
});
