import type { Component, Rotor } from '../../model/case.ts';
import { FEED_LAWS } from '../../model/psd/feed/index.ts';
import { formatQuantity } from '../units/display.ts';
import { type Block, childOf } from './node.ts';
import { type Context, fault, question } from './reading-context.ts';
import { boundOf } from './spec-bound.ts';
import type { PlacedRequirement } from './spec-sense.ts';
import { sizeBounds } from './spec-size-bounds.ts';

/** Share of the feed that must be finer than the gap between rotor and liner, below which the lumps are refused. */
const MUST_FIT = 0.5;

/** Sizes above this are questioned as such [m]. */
const LARGEST_PRODUCT = 5e-3;

/**
 * Faults of a feed whose lumps cannot enter the gap, and a question where the feed meets a requirement of fineness before
 * it is milled.
 */
export function checkFeed(
  context: Context,
  root: Block,
  components: readonly Component[],
  rotor: Rotor,
  spec: readonly PlacedRequirement[],
): void {
  const node = childOf(root, 'feed') ?? childOf(root, 'components');
  const finer = (size: number) =>
    components.reduce((sum, { share, feed }) => sum + share * FEED_LAWS[feed.law]!.undersize(feed, size), 0);
  const { gap } = rotor.geometry;
  const passing = finer(gap);
  if (passing < MUST_FIT) {
    const words = `${formatQuantity(1 - passing, '%', 3)} of the feed is coarser than the gap between rotor and liner, ${formatQuantity(gap, 'mm')}: such lumps do not enter; check the units of the feed’s sizes and of the gap, or crush the feed first`;
    fault(context, node, childOf(root, 'feed') ? 'feed' : 'components', words);
    return;
  }
  for (const { requirement, node: line, place } of spec) {
    const bound = boundOf(requirement);
    for (const { size, share, atLeast } of bound ? sizeBounds(bound) : []) {
      if (!atLeast || size > LARGEST_PRODUCT || finer(size) < share) continue;
      const words = `the feed already meets this: ${formatQuantity(finer(size), '%', 3)} of it is finer than ${formatQuantity(size, 'um')}`;
      question(context, line, place, words);
    }
  }
}
