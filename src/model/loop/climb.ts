import { boundedFlow, fillState, flowAround } from './flow.ts';
import type { Workspace } from './workspace.ts';

/** What the climb from empty comes to. */
export type Climb =
  | {
      readonly kind: 'root';
      readonly circulating: number;
      /** Whether the workspace holds the state of this root already, as `fillState` leaves it. */
      readonly filled: boolean;
    }
  /** No downward crossing up to λ_max. */
  | { readonly kind: 'none' };

/** The root is taken where |Φ/G − 1| is below this. */
const TOLERANCE = 1e-11;
/** Closer than this the next sample is most likely the root, and is evaluated in full. */
const NEAR = 1e-5;
/** Smallest and largest step of the climb where nothing proves a longer one. */
const SHORTEST = 1.02;
const LONGEST = 1.1;
/** Longest step to where y is expected to have just vanished. */
const JUMP = 1.25;
/** A minimum of y lower than this is looked into: a pair of roots may hide in it. */
const SUSPECT = 0.05;
const GOLDEN = (3 - Math.sqrt(5)) / 2;
/** Step in ln G over which the slope at a sample is read, and the width to which a dip is narrowed. */
const NUDGE = 1e-5;
const FINEST = 1e-9;

/** One point of y(ln G). */
interface Sample {
  readonly at: number;
  readonly y: number;
}

/**
 * Climbs from empty to the first downward crossing of y(G) = Φ(G)/G − 1 (section 7).
 *
 * From a G known to lie below the root, `boundedFlow` over [G, target] gives a flow up to which no root can lie
 * (`derived`, see there), so the climb may go there at once; where that is no longer than an ordinary short step, the
 * step is clip(1 + y, 1.02, 1.1), and never much beyond where y, drawn on straight, would vanish. A low interior minimum of y is minimised before the climb goes on, so that neither a
 * pair of roots near a fold is jumped nor a choke called falsely. The last interval is closed by Brent's method in ln G.
 *
 * @param w prepared case; it holds the state of the root afterwards only where that is `filled`
 */
export function climb(w: Workspace): Climb {
  const top = w.case.loop.chokeLoad * w.fixed.inlet.massFlow;
  const start = provenStart(w, top);
  if (start === undefined) return { kind: 'none' };
  let last = sample(w, start);
  if (last.y <= TOLERANCE) return root(last, false);
  let before: Sample | undefined;
  let beforeThat: Sample | undefined;
  const pace: Pace = { reach: Number.POSITIVE_INFINITY };
  while (last.at < Math.log(top)) {
    const next = step(w, last, before, top, pace);
    if (next === undefined) return { kind: 'none' };
    beforeThat = before;
    before = last;
    last = sample(w, Math.min(next.to, top));
    if (last.y <= 0) return close(w, before, last, beforeThat);
    const dip = findDip(w, beforeThat, before, last, next.jump);
    if (dip) return close(w, dip.left, dip.low);
  }
  return { kind: 'none' };
}

/** Where the climb may begin: no root lies below; undefined where none lies up to the top. */
function provenStart(w: Workspace, top: number): number | undefined {
  const feed = w.fixed.feedRate;
  if (feed > top) return undefined;
  if (w.case.loop.stages !== 1) return feed;
  const proven = boundedFlow(w, feed, top);
  // Φ ≥ F always; a bound no further than its own rounding from F proves nothing
  if (!(proven > feed * (1 + 1e-9))) return feed;
  return proven > top ? undefined : proven;
}

/** How many times further than here the next bound looks; shortened where a bound proves little. */
interface Pace {
  reach: number;
}

/** The next G to look at; a jump goes to where y, drawn on straight, has just vanished. */
interface Step {
  readonly to: number;
  readonly jump: boolean;
}

/** How far the climb may go from here; undefined where the bound proves that no root lies up to the top. */
function step(
  w: Workspace,
  last: Sample,
  before: Sample | undefined,
  top: number,
  pace: Pace,
): Step | undefined {
  const here = Math.exp(last.at);
  const guess = extrapolate(last, before);
  if (guess <= top && guess <= here * JUMP) return { to: guess, jump: true };
  const ordinary = here * Math.min(LONGEST, Math.max(SHORTEST, Math.min(1 + last.y, guess / here)));
  if (w.case.loop.stages !== 1) return { to: ordinary, jump: false };
  const target = Math.min(guess, top, here * pace.reach);
  const proven = boundedFlow(w, here, target);
  if (target >= top && proven > top) return undefined;
  if (target === guess && guess <= proven * JUMP) return { to: guess, jump: true };
  if (proven >= target) pace.reach = 2 * (target / here);
  else if (proven <= ordinary) pace.reach = Math.max(SHORTEST * LONGEST, Math.sqrt(target / here));
  return { to: Math.max(ordinary, Math.min(proven, target)), jump: false };
}

/** G where y would vanish if ln Φ went on straight, a little beyond. */
function extrapolate(last: Sample, before: Sample | undefined): number {
  const gain = Math.log1p(last.y);
  const slope = before ? (gain - Math.log1p(before.y)) / (last.at - before.at) : -0.7;
  const ahead = slope < -0.05 ? -gain / slope : 20 * gain;
  return Math.exp(last.at + Math.max(gain, ahead) * 1.06);
}

function sample(w: Workspace, circulating: number, fully = false): Sample {
  const around = fully ? fillState(w, circulating) : flowAround(w, circulating);
  const y = around / circulating - 1;
  return { at: Math.log(circulating), y: Number.isNaN(y) ? Number.POSITIVE_INFINITY : y };
}

function root(found: Sample, filled: boolean): Climb {
  return { kind: 'root', circulating: Math.exp(found.at), filled };
}

/**
 * A pair of roots hidden between samples that all lie above zero. Looked for where the middle of three samples is a low
 * minimum, and where the line through the last two crossed zero before the next sample, as it does at every jump, yet y
 * rises there: then y has turned in between.
 *
 * @returns a sample with y ≤ 0 and one left of it with y > 0, or undefined
 */
function findDip(w: Workspace, left: Sample | undefined, middle: Sample, right: Sample, jumped: boolean) {
  const lowMiddle = left !== undefined && middle.y < left.y && middle.y <= right.y && middle.y < SUSPECT;
  if (!lowMiddle) {
    const fall = left ? (middle.y - left.y) / (middle.at - left.at) : 0;
    const crossed = jumped || middle.y + fall * (right.at - middle.at) <= 0;
    if (!crossed || sample(w, Math.exp(right.at - NUDGE)).y > right.y) return undefined;
  }
  const from = lowMiddle ? left : middle;
  const low = minimise(w, from, right);
  return low && { left: from, low };
}

/** Golden-section search for y ≤ 0 between two samples; undefined where the minimum stays above zero. */
function minimise(w: Workspace, left: Sample, right: Sample): Sample | undefined {
  let low = left.at;
  let high = right.at;
  let first = sample(w, Math.exp(low + GOLDEN * (high - low)));
  let second = sample(w, Math.exp(high - GOLDEN * (high - low)));
  for (let turn = 0; turn < 60 && high - low > FINEST; turn++) {
    if (first.y <= 0) return first;
    if (second.y <= 0) return second;
    if (first.y < second.y) {
      high = second.at;
      second = first;
      first = sample(w, Math.exp(low + GOLDEN * (high - low)));
    } else {
      low = first.at;
      first = second;
      second = sample(w, Math.exp(high - GOLDEN * (high - low)));
    }
  }
  return undefined;
}

/**
 * Brent's method on y(ln G) between a positive and a non-positive sample (Brent 1973, ch. 4); an earlier sample, where
 * there is one, serves its first inverse quadratic step. Close to the root samples are evaluated in full, so that the last
 * of them leaves the state of the root behind.
 */
function close(w: Workspace, positive: Sample, nonPositive: Sample, earlier?: Sample): Climb {
  let a = earlier ?? positive;
  let b = nonPositive;
  let c = positive;
  let move = b.at - c.at;
  let moveBefore = move;
  let filled = false;
  for (let turn = 0; turn < 200; turn++) {
    if (b.y > 0 === c.y > 0) {
      c = a;
      move = b.at - a.at;
      moveBefore = move;
    }
    if (Math.abs(c.y) < Math.abs(b.y)) {
      [a, b, c] = [b, c, b];
      filled = false;
    }
    const half = (c.at - b.at) / 2;
    const finest = 2 * Number.EPSILON * Math.abs(b.at) + 1e-16;
    if (Math.abs(b.y) < TOLERANCE || Math.abs(half) <= finest) break;
    if (Math.abs(moveBefore) >= finest && Math.abs(a.y) > Math.abs(b.y)) {
      let p: number;
      let q: number;
      const s = b.y / a.y;
      if (a === c) {
        p = 2 * half * s;
        q = 1 - s;
      } else {
        const t = a.y / c.y;
        const r = b.y / c.y;
        p = s * (2 * half * t * (t - r) - (b.at - a.at) * (r - 1));
        q = (t - 1) * (r - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      p = Math.abs(p);
      if (2 * p < Math.min(3 * half * q - Math.abs(finest * q), Math.abs(moveBefore * q))) {
        moveBefore = move;
        move = p / q;
      } else {
        move = half;
        moveBefore = half;
      }
    } else {
      move = half;
      moveBefore = half;
    }
    a = b;
    filled = Math.abs(b.y) < NEAR;
    b = sample(w, Math.exp(b.at + (Math.abs(move) > finest ? move : Math.sign(half) * finest)), filled);
  }
  return root(b, filled);
}
