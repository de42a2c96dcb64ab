import type { Bound } from './spec-bound.ts';

/** What a requirement says of the product's size curve: at least, or at most, a share finer than a size [m]. */
interface SizeBound {
  readonly size: number;
  readonly share: number;
  readonly atLeast: boolean;
}

/**
 * A requirement on passing, oversize or a percentile as a bound on the curve Q(x): `x90 <= 20 um` and
 * `passing(20 um) >= 90 %` are the same bound.
 *
 * @returns one bound, or none where the requirement is about something else
 */
export function sizeBounds({ name, argument, atLeast, limit }: Bound): readonly SizeBound[] {
  if (name === 'passing' && argument !== undefined) return [{ size: argument, share: limit, atLeast }];
  if (name === 'oversize' && argument !== undefined)
    return [{ size: argument, share: 1 - limit, atLeast: !atLeast }];
  const percent = Number(/^x(\d{1,2}(?:\.\d+)?)$/.exec(name)?.[1]);
  // a curve that is coarser at a share holds at most that share below the size
  return percent > 0 ? [{ size: limit, share: percent / 100, atLeast: !atLeast }] : [];
}
