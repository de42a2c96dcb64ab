import type { LawChoice } from '../../parameters.ts';
import type { Grid } from '../grid.ts';
import type { FeedLaw } from './feed-law.ts';
import { gaudinSchuhmann } from './gaudin-schuhmann.ts';
import { logNormal } from './log-normal.ts';
import { percentiles } from './percentiles.ts';
import { rrsb } from './rrsb.ts';
import { table } from './table.ts';

/** Every law of feed, by the name it has in a scenario. */
export const FEED_LAWS: Readonly<Record<string, FeedLaw>> = {
  [logNormal.name]: logNormal,
  [rrsb.name]: rrsb,
  [gaudinSchuhmann.name]: gaudinSchuhmann,
  [percentiles.name]: percentiles,
  [table.name]: table,
};

/**
 * Feed by class: f_i = Q(e_{i+1}) − Q(e_i), class 0 with all finer, the top class with all coarser; Σ f = 1.
 *
 * @param grid size classes
 * @param choice law and its parameters
 * @param law the law of that name unless given
 * @returns f, length grid.classes
 */
export function componentFeed(
  grid: Grid,
  choice: LawChoice,
  law: FeedLaw = FEED_LAWS[choice.law]!,
): Float64Array {
  const n = grid.classes;
  const feed = new Float64Array(n);
  let below = 0;
  for (let i = 0; i < n; i++) {
    const upTo = i === n - 1 ? 1 : Math.max(below, Math.min(1, law.undersize(choice, grid.edges[i + 1]!)));
    feed[i] = upTo - below;
    below = upTo;
  }
  return feed;
}
