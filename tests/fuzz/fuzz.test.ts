import { spawnSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import { uniform } from '../reference/random-cases.ts';
import { mutate } from './mutate.ts';
import { TARGETS } from './targets.ts';
import { LEAST_TOLD, shareTold, wrongAcceptance } from './wrong-acceptance.ts';

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

test('of the numbers of a sound scenario, each mistyped in ten ways, at least 95 % are refused or questioned', () => {
  const tallies = wrongAcceptance('scenarios/mineral-filler.yaml');
  expect(tallies.every(({ tried }) => tried > 0)).toBe(true);
  expect(tallies.reduce((sum, { tried }) => sum + tried, 0)).toBeGreaterThan(300);
  const silent = tallies.flatMap(({ slip, silent: lines }) => lines.map((line) => `${slip}: ${line}`));
  expect(shareTold(tallies), silent.join('\n')).toBeGreaterThan(LEAST_TOLD);
  for (const sign of ['no unit', 'a decimal comma', 'a comma between thousands', 'a unit of another kind'])
    expect(tallies.find(({ slip }) => slip === sign)!.silent).toEqual([]);
});

test('whole command lines, in a process that may write nowhere else', () => {
  const words = ['dist/tests/fuzz/main.js', '--only', 'command lines', '--runs', '60', '--seed', '7'];
  const { status, stdout } = spawnSync(process.execPath, words, { encoding: 'utf8' });
  expect(stdout).toMatch(/^command lines: 60 runs, \d+ exit 0, .*\n0 broken\n$/);
  expect(status).toBe(0);
}, 240_000);
