import type { Range } from './column.ts';

/**
 * Parts of `within` that none of the ranges covers, in order.
 *
 * @example gapsIn([{ first: 2, count: 3 }], { first: 0, count: 6 }) // [{ first: 0, count: 2 }, { first: 5, count: 1 }]
 */
export function gapsIn(ranges: readonly Range[], within: Range): Range[] {
  const gaps: Range[] = [];
  const end = within.first + within.count;
  let at = within.first;
  for (const range of [...ranges].sort((a, b) => a.first - b.first)) {
    if (range.first > at) gaps.push({ first: at, count: Math.min(range.first, end) - at });
    at = Math.max(at, range.first + range.count);
    if (at >= end) break;
  }
  if (at < end) gaps.push({ first: at, count: end - at });
  return gaps.filter((gap) => gap.count > 0);
}

/**
 * Cuts ranges into chunks that end at multiples of `size`, so that chunks of different runs line up.
 *
 * @example [...chunksOf([{ first: 3, count: 3 }], 4)] // [{ first: 3, count: 1 }, { first: 4, count: 2 }]
 */
export function* chunksOf(ranges: readonly Range[], size: number): Generator<Range> {
  for (const { first, count } of ranges) {
    const end = first + count;
    for (let at = first; at < end; ) {
      const next = Math.min(end, (Math.floor(at / size) + 1) * size);
      yield { first: at, count: next - at };
      at = next;
    }
  }
}

/** Points in all ranges. */
export function pointsIn(ranges: readonly Range[]): number {
  return ranges.reduce((sum, range) => sum + range.count, 0);
}

/**
 * `points 0 to 511`, as messages name a range.
 *
 * @example describeRange({ first: 0, count: 512 }) // 'points 0 to 511'
 */
export function describeRange({ first, count }: Range): string {
  return count === 1 ? `point ${first}` : `points ${first} to ${first + count - 1}`;
}
