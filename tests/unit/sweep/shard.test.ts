import { describe, expect, test } from 'vitest';
import { InputError } from '../../../src/scenario/errors.ts';
import { type Environment, parseShard } from '../../../src/sweep/study/shard.ts';

const slurm = (id: number, min: number, max: number, count: number): Environment => ({
  SLURM_ARRAY_TASK_ID: String(id),
  SLURM_ARRAY_TASK_MIN: String(min),
  SLURM_ARRAY_TASK_MAX: String(max),
  SLURM_ARRAY_TASK_COUNT: String(count),
});

test('k/n is taken as written', () => {
  expect(parseShard('2/8', {})).toEqual({ part: 2, of: 8 });
  for (const text of ['0/8', '9/8', '2', '2/0', '-1/4', '1/2/3', 'x/2', '2/8 ']) {
    expect(() => parseShard(text, {}), text).toThrow(InputError);
  }
});

describe('auto reads the array index of', () => {
  test.each([
    ['Slurm, from 0', 'auto', slurm(0, 0, 7, 8), 1],
    ['Slurm, from 1', 'auto', slurm(8, 1, 8, 8), 8],
    ['Slurm, in steps', 'auto', slurm(20, 10, 45, 8), 3],
    ['Slurm with n', 'auto/8', slurm(3, 0, 7, 8), 4],
    ['a Kubernetes indexed Job', 'auto/8', { JOB_COMPLETION_INDEX: '7' }, 8],
    ['AWS Batch', 'auto', { AWS_BATCH_JOB_ARRAY_INDEX: '0', AWS_BATCH_JOB_ARRAY_SIZE: '8' }, 1],
    ['AWS Batch without its size', 'auto/8', { AWS_BATCH_JOB_ARRAY_INDEX: '5' }, 6],
    ['PBS', 'auto/8', { PBS_ARRAY_INDEX: '8' }, 8],
    ['older PBS', 'auto/8', { PBS_ARRAYID: '1' }, 1],
  ])('%s', (_, text, environment, part) => {
    expect(parseShard(text, environment as Environment)).toEqual({ part, of: 8 });
  });
});

test.each([
  ['no index at all', 'auto/8', {}, /finds no array index/],
  ['a scheduler that tells no count', 'auto', { JOB_COMPLETION_INDEX: '1' }, /auto\/n/],
  ['another count', 'auto/4', slurm(1, 0, 7, 8), /array of 8 jobs/],
  ['an index beyond n', 'auto/4', { JOB_COMPLETION_INDEX: '4' }, /1\/4 to 4\/4/],
  ['a PBS array that starts at 0', 'auto/4', { PBS_ARRAY_INDEX: '0' }, /from 1/],
  ['a step that does not fit', 'auto', slurm(2, 0, 7, 4), /not one of the shards/],
  ['words', 'auto/4', { JOB_COMPLETION_INDEX: 'one' }, /whole number/],
])('auto refuses %s', (_, text, environment, words) => {
  expect(() => parseShard(text, environment as Environment)).toThrow(words);
});
