import { InputError } from '../../scenario/errors.ts';
import type { Range } from './column.ts';

/** Part k of n of a sweep, k = 1…n. */
export interface Shard {
  readonly part: number;
  readonly of: number;
}

/**
 * Points of one shard: n contiguous parts whose sizes differ by one at most.
 *
 * @example shardRange({ part: 2, of: 4 }, 10) // { first: 2, count: 3 }
 */
export function shardRange({ part, of }: Shard, size: number): Range {
  const first = Math.floor(((part - 1) * size) / of);
  return { first, count: Math.floor((part * size) / of) - first };
}

/** What the environment holds, as `process.env`. */
export type Environment = Readonly<Record<string, string | undefined>>;

/** A scheduler's array job: which variables tell the place of this job in it. */
interface ArrayIndex {
  readonly scheduler: string;
  readonly variable: string;
  /** Variables of the lowest index, the highest and the count, where the scheduler tells them. */
  readonly lowest?: string;
  readonly highest?: string;
  readonly count?: string;
  /** Lowest index where no variable tells it. */
  readonly from: number;
}

/** Array indices of the schedulers' own documentation (recalled). */
const ARRAYS: readonly ArrayIndex[] = [
  {
    scheduler: 'Slurm',
    variable: 'SLURM_ARRAY_TASK_ID',
    lowest: 'SLURM_ARRAY_TASK_MIN',
    highest: 'SLURM_ARRAY_TASK_MAX',
    count: 'SLURM_ARRAY_TASK_COUNT',
    from: 0,
  },
  { scheduler: 'Kubernetes indexed Job', variable: 'JOB_COMPLETION_INDEX', from: 0 },
  {
    scheduler: 'AWS Batch',
    variable: 'AWS_BATCH_JOB_ARRAY_INDEX',
    count: 'AWS_BATCH_JOB_ARRAY_SIZE',
    from: 0,
  },
  { scheduler: 'PBS', variable: 'PBS_ARRAY_INDEX', from: 1 },
  { scheduler: 'PBS', variable: 'PBS_ARRAYID', from: 1 },
];

/**
 * Reads `k/n`, `auto/n` or `auto`: auto takes k, and n where it is not given, from the array index that Slurm,
 * Kubernetes indexed jobs, AWS Batch and PBS set.
 *
 * @throws InputError where the text is none of these or the environment does not tell
 * @example parseShard('2/4', {}) // { part: 2, of: 4 }
 */
export function parseShard(text: string, environment: Environment): Shard {
  const plain = /^(\d+)\/(\d+)$/.exec(text);
  if (plain) return checked(Number(plain[1]), Number(plain[2]), text);
  const auto = /^auto(?:\/(\d+))?$/.exec(text);
  if (!auto) throw fault(`must be k/n, auto/n or auto, e.g. 2/8, is ${text}`);
  return fromArray(auto[1] === undefined ? undefined : Number(auto[1]), environment);
}

function fromArray(asked: number | undefined, environment: Environment): Shard {
  const array = ARRAYS.find(({ variable }) => environment[variable] !== undefined);
  if (array === undefined) {
    const names = ARRAYS.map(({ variable }) => variable).join(', ');
    throw fault(`auto finds no array index; set one of ${names}, or write k/n`);
  }
  const told = (variable: string | undefined): number | undefined => wholeNumber(variable, environment);
  const index = told(array.variable)!;
  const count = told(array.count);
  const of = asked ?? count;
  if (of === undefined) {
    throw fault(
      `${array.scheduler} does not report how many jobs the array has; write auto/n with that number`,
    );
  }
  if (count !== undefined && count !== of) {
    throw fault(`auto/${of} does not fit the array of ${count} jobs that ${array.scheduler} runs`);
  }
  const lowest = told(array.lowest) ?? array.from;
  const highest = told(array.highest);
  const step = highest === undefined || of === 1 ? 1 : (highest - lowest) / (of - 1);
  const part = (index - lowest) / step + 1;
  return checked(part, of, `${array.variable}=${index} with an array from ${lowest}`);
}

function wholeNumber(variable: string | undefined, environment: Environment): number | undefined {
  const text = variable === undefined ? undefined : environment[variable];
  if (text === undefined) return undefined;
  if (!/^\d+$/.test(text)) throw fault(`${variable} must be a whole number, is ${text}`);
  return Number(text);
}

function checked(part: number, of: number, text: string): Shard {
  if (Number.isInteger(part) && part >= 1 && part <= of) return { part, of };
  throw fault(`${text} is not one of the shards 1/${of} to ${of}/${of}`);
}

function fault(message: string): InputError {
  return new InputError([{ place: '--shard', message }]);
}
