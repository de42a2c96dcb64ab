import { expect, test } from 'vitest';
import { describeProgress, duration, spaced } from '../../../src/sweep/study/progress.ts';

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
