import { spawnSync } from 'node:child_process';
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

test('whole command lines, in a process that may write nowhere else', () => {
  const words = ['dist/tests/fuzz/main.js', '--only', 'command lines', '--runs', '60', '--seed', '7'];
  const { status, stdout } = spawnSync(process.execPath, words, { encoding: 'utf8' });
  expect(stdout).toMatch(/^command lines: 60 runs, \d+ exit 0, .*\n0 broken\n$/);
  expect(status).toBe(0);
}, 240_000);
