import { expect, test } from 'vitest';
import { progressLine } from '../../../src/cli/sweep-progress.ts';
import { describeProgress, duration, type Progress, spaced } from '../../../src/sweep/study/progress.ts';

test('progress tells share, rate, time left and what is choked', () => {
  const progress = {
    total: 900_000,
    done: 320_000,
    before: 100_000,
    choked: { load: 9600, fold: 640 },
    elapsed: 6.25,
  };
  expect(describeProgress(progress)).toBe(
    '42 %, 420 000 of 1 000 000 points, 51 200/s, 11 s left, choked 3.2 % (load 3 %, fold 0.2 %)',
  );
  const finished = { ...progress, done: 900_000, choked: { load: 0 } };
  expect(describeProgress(finished)).toBe('100 %, 1 000 000 of 1 000 000 points, 144 000/s');
  expect(describeProgress({ ...progress, done: 0, elapsed: 0 })).toBe(
    '10 %, 100 000 of 1 000 000 points, 0/s',
  );
});

test('times and counts read as people say them', () => {
  expect([0.2, 59, 61, 3599, 3661, 360_000].map(duration)).toEqual([
    '1 s',
    '59 s',
    '1 min 01 s',
    '59 min 59 s',
    '1 h 01 min',
    '100 h 00 min',
  ]);
  expect([0, 999, 1000, 1234567].map(spaced)).toEqual(['0', '999', '1 000', '1 234 567']);
});

const at = (elapsed: number): Progress => ({
  total: 1000,
  done: 10 * elapsed,
  before: 0,
  choked: {},
  elapsed,
});

test('a terminal gets one line that rewrites itself, five times a second at most', () => {
  let written = '';
  const line = progressLine({ isTTY: true, columns: 30, write: (text) => (written += text) });
  for (const elapsed of [0, 0.1, 0.3, 0.4, 0.6]) line.show(at(elapsed));
  line.end();
  line.end();
  const [first, ...drawn] = written.split('\r');
  expect(first).toBe('');
  expect(drawn.length).toBe(4);
  for (const text of drawn.slice(0, 3)) expect(text.replace('\u001b[K', '').length).toBeLessThanOrEqual(29);
  expect(drawn[3]).toBe('\u001b[K');
  expect(written).not.toContain('\n');
});

test('a pipe gets plain lines, one in ten seconds', () => {
  let written = '';
  const line = progressLine({ write: (text) => (written += text) });
  for (let elapsed = 0; elapsed <= 35; elapsed += 0.5) line.show(at(elapsed));
  line.end();
  expect(written.split('\n').length).toBe(4);
  expect(written).toMatch(/^10 %, 100 of 1 000 points, 10\/s, 1 min 30 s left\n20 %/);
  expect(written).not.toContain('\r');
  expect(written).not.toContain('\u001b');
});
