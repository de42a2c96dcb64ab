import { SELECTION_LAWS } from '../breakage/selection/index.ts';
import { fillState, flowAround } from './flow.ts';
import type { ChokeReason } from './state.ts';
import type { Workspace } from './workspace.ts';

/** Samples of G/Φ between the start and λ_max. */
const SAMPLES = 10;
/** A maximum this close to the end (in ln G, as a share of the range) counts as at the end. */
const INTERIOR = 0.02;

/**
 * Feed at which the settings choke, F · max G/Φ(G) over G up to λ_max m_air (`derived`, within 1 %: heat makes Φ/F depend
 * a little on F). At the root itself the ratio is 1, so the look goes on past it.
 *
 * @param w prepared case, overwritten
 * @param from G to start from: the root, or F where there is none [kg/s]
 */
export function limitingFeed(w: Workspace, from: number): number {
  const top = w.case.loop.chokeLoad * w.fixed.inlet.massFlow;
  const feed = w.fixed.feedRate;
  const low = Math.log(Math.min(from, top));
  const high = Math.log(top);
  const width = (high - low) / SAMPLES;
  const ratio = (at: number) => logRatio(w, at);
  let best = Number.NEGATIVE_INFINITY;
  let where = 0;
  const values: number[] = [];
  for (let i = 0; i <= SAMPLES; i++) {
    const value = ratio(low + i * width);
    values.push(value);
    if (value > best) {
      best = value;
      where = i;
    }
  }
  if (where === 0 || where === SAMPLES || !(width > 0)) {
    return feed * Math.exp(best);
  }
  const left = values[where - 1]!;
  const right = values[where + 1]!;
  const shift = (0.5 * (left - right)) / (left - 2 * best + right);
  const at = low + (where + shift) * width;
  return feed * Math.exp(Number.isFinite(shift) ? Math.max(best, ratio(at)) : best);
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
      return 'more comes round than went round at every load: the wheel and the rotor lose hold together';
    case 'load':
      return `the circulating load passes ${load} kg of solids per kg of air, the limit assumed for this machine`;
  }
}
