import { SELECTION_LAWS } from '../breakage/selection/index.ts';
import { fillState, flowAround } from './flow.ts';
import type { ChokeReason } from './state.ts';
import { setFeedRate, type Workspace } from './workspace.ts';

/** Samples of G/Φ between the start and λ_max. */
const SAMPLES = 10;
/** Halvings of the distance between samples about the best of them. */
const HALVINGS = 4;
/** A maximum this close to the end (in ln G, as a share of the range) counts as at the end. */
const INTERIOR = 0.02;

/** A step of the feed's logarithm this small is the last: by secants what remains is a tenth of it at most. */
const FEED_FOUND = 1e-2;
const MOST_ROUNDS = 6;
/** A feed this much smaller than the one at hand counts as none: nothing can leave. */
const NOTHING = 1e-9;

/**
 * Feed at which the settings choke: the F at which max G/Φ(G) over G up to λ_max m_air is 1 (`derived`). F · max G/Φ is a
 * first guess only, since heat and the feed's own heat capacity make Φ/F depend on F; the look is repeated at the feed
 * found, by secants in ln F, until that moves by less than 1 % (the first look is a coarse one). The workspace is as before afterwards but for its class
 * arrays.
 *
 * @param w prepared case, overwritten
 * @param from G to start from: the root, or F where there is none [kg/s]
 * @returns F [kg/s]
 */
export function limitingFeed(w: Workspace, from: number): number {
  const asked = w.fixed.feedRate;
  let last = { feed: asked, margin: largestRatio(w, from, 0) };
  let feed = asked * Math.exp(last.margin);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    if (!(feed > NOTHING * asked) || (round > 0 && Math.abs(Math.log(feed / last.feed)) < FEED_FOUND)) break;
    setFeedRate(w, feed);
    const now = { feed, margin: largestRatio(w, feed, HALVINGS) };
    const slope = (now.margin - last.margin) / Math.log(now.feed / last.feed);
    // the margin falls about as fast as the feed rises; a slope far from −1 is that of another maximum
    const step = slope > -3 && slope < -1 / 3 ? -now.margin / slope : now.margin;
    last = now;
    feed = now.feed * Math.exp(step);
  }
  setFeedRate(w, asked);
  return feed;
}

/** ln of the largest G/Φ(G) from a given G up to λ_max m_air; the first guess of ln F_choke/F. */
function largestRatio(w: Workspace, from: number, halvings: number): number {
  const top = w.case.loop.chokeLoad * w.fixed.inlet.massFlow;
  const low = Math.log(Math.min(from, top));
  const high = Math.log(top);
  let width = (high - low) / SAMPLES;
  if (!(width > 0)) return logRatio(w, high);
  const values: number[] = [];
  let where = 0;
  for (let i = 0; i <= SAMPLES; i++) {
    values.push(logRatio(w, low + i * width));
    if (values[i]! > values[where]!) where = i;
  }
  // the maximum can be narrow: both neighbours of the best sample are looked into, each time half as far away
  let at = low + where * width;
  let best = values[where]!;
  let left = values[where - 1] ?? Number.NEGATIVE_INFINITY;
  let right = values[where + 1] ?? Number.NEGATIVE_INFINITY;
  for (let halving = 0; halving < halvings; halving++) {
    width /= 2;
    const before = at - width >= low ? logRatio(w, at - width) : Number.NEGATIVE_INFINITY;
    const after = at + width <= high ? logRatio(w, at + width) : Number.NEGATIVE_INFINITY;
    if (before > best && before >= after) [at, left, best, right] = [at - width, left, before, best];
    else if (after > best) [at, left, best, right] = [at + width, best, after, right];
    else [left, right] = [before, after];
  }
  const shift = (0.5 * (left - right)) / (left - 2 * best + right);
  return Number.isFinite(shift) ? Math.max(best, logRatio(w, at + shift * width)) : best;
}

/** ln G/Φ(G) at a given ln G. */
function logRatio(w: Workspace, at: number): number {
  return at - Math.log(flowAround(w, Math.exp(at)));
}

/**
 * Why a chamber without steady state chokes: particles too small for this hit yet above the cut dominate what goes round
 * (`grind limit`); else G/Φ falls towards λ_max, so that its maximum lies inside, where two roots met and vanished
 * (`fold`); else the assumed limit of load was passed (`load`). Of a parabola with its top `INTERIOR` from the end, the
 * values at the end and twice as far in are equal.
 *
 * @param w prepared case; its arrays and conditions are those of λ_max afterwards
 */
export function chokeReason(w: Workspace): ChokeReason {
  const top = w.case.loop.chokeLoad * w.fixed.inlet.massFlow;
  const high = Math.log(top);
  const low = Math.min(high, Math.log(w.fixed.feedRate));
  const before = logRatio(w, high - 2 * INTERIOR * (high - low));
  const atTop = high - Math.log(fillState(w, top));
  const { sizes } = w.chamber.grid;
  let all = 0;
  let unbreakable = 0;
  w.components.forEach((work, index) => {
    const { selection } = w.chamber.components[index]!.component.material;
    const limitSize = SELECTION_LAWS[selection.law]!.grindLimit(selection, w.fixed.hit);
    for (let i = 0; i < sizes.length; i++) {
      const h = work.arriving[i]!;
      const trapped = sizes[i]! > work.cutSize && sizes[i]! <= limitSize;
      all += h;
      if (trapped) unbreakable += h;
    }
  });
  if (unbreakable > all / 2) return 'grind limit';
  return before > atTop ? 'fold' : 'load';
}

/** The choke in words, naming the assumed limit where that is what was met. */
export function chokeMessage(reason: ChokeReason, w: Workspace): string {
  const load = w.case.loop.chokeLoad;
  switch (reason) {
    case 'grind limit':
      return 'particles too small to be broken by these hits are held back by the wheel and pile up';
    case 'fold':
      return 'at every load more returns than was sent round, so the mill fills: wheel and rotor cannot keep up';
    case 'load':
      return `the circulating load passes ${load} kg of solids per kg of air, the limit assumed for this machine`;
  }
}
