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

/** The root is taken where |ln(Φ/G)| is below this. */
const TOLERANCE = 1e-11;
/** Closer than this the next sample is most likely the root, and is evaluated in full. */
const NEAR = 1e-5;
/** Smallest and largest step of the climb where nothing proves a longer one. */
const SHORTEST = 1.02;
const LONGEST = 1.1;
/** Longest step to where y is expected to have just vanished, and how much further than there it goes. */
const JUMP = 1.25;
const BEYOND = 1.06;
/** A minimum of y lower than this is looked into: a pair of roots may hide in it. */
const SUSPECT = 0.05;
/** Samples one inverse interpolation goes through. */
const MOST_KNOWN = 4;
const GOLDEN = (3 - Math.sqrt(5)) / 2;
/** Step in ln G over which the slope at a sample is read, and the width to which a dip is narrowed. */
const NUDGE = 1e-5;
const FINEST = 1e-9;

/** One point of y(ln G) = ln(Φ/G). */
interface Sample {
  readonly at: number;
  readonly y: number;
}

/**
 * Climbs from empty to the first downward crossing of y(G) = ln(Φ(G)/G), which has the roots and the signs of Φ/G − 1
 * (eq. 26b) and is straighter.
 *
 * From a G known to lie below the root, `boundedFlow` over [G, target] gives a flow up to which no root can lie
 * (`derived`, see there), so the climb may go there at once; where that is no longer than an ordinary short step, the
 * step is clip(Φ/G, 1.02, 1.1), and never much beyond where y, drawn on straight, would vanish. A low interior minimum
 * of y is minimised before the climb goes on, so that neither a pair of roots near a fold is jumped nor a choke called
 * falsely. The last interval is closed by inverse interpolation.
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
    if (last.y <= TOLERANCE) return close(w, beforeThat ? [beforeThat, before, last] : [before, last]);
    const dip = findDip(w, beforeThat, before, last, next.jump);
    if (dip) return close(w, [dip.left, dip.low]);
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
  const ordinary = here * Math.min(LONGEST, Math.max(SHORTEST, Math.min(Math.exp(last.y), guess / here)));
  if (w.case.loop.stages !== 1) return { to: ordinary, jump: false };
  const target = Math.min(guess, top, here * pace.reach);
  const proven = boundedFlow(w, here, target);
  if (target >= top && proven > top) return undefined;
  if (target === guess && guess <= proven * JUMP) return { to: guess, jump: true };
  if (proven >= target) pace.reach = 2 * (target / here);
  else if (proven <= ordinary) pace.reach = Math.max(SHORTEST * LONGEST, Math.sqrt(target / here));
  return { to: Math.max(ordinary, Math.min(proven, target)), jump: false };
}

/** G where y would vanish if it went on straight, a little beyond. */
function extrapolate(last: Sample, before: Sample | undefined): number {
  const slope = before ? (last.y - before.y) / (last.at - before.at) : -0.7;
  const ahead = slope < -0.05 ? -last.y / slope : 20 * last.y;
  return Math.exp(last.at + Math.max(last.y, ahead) * BEYOND);
}

function sample(w: Workspace, circulating: number, fully = false): Sample {
  const around = fully ? fillState(w, circulating) : flowAround(w, circulating);
  const y = Math.log(around / circulating);
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
 * Closes in on the crossing between the last two of some samples, the first of them above zero, the second not: each next
 * sample lies where the polynomial ln G(y) through the latest ones, four at most, has y = 0 (inverse interpolation, as in
 * Alefeld, Potra and Shi 1995, ACM Trans. Math. Softw. 21(3), 327–344); in the middle of the bracket where that leaves it,
 * or after a sample that has not halved |y|. Close to the root samples are evaluated in full, so that the last of them
 * leaves the state of the root behind.
 */
function close(w: Workspace, known: Sample[]): Climb {
  let [positive, nonPositive] = known.slice(-2) as [Sample, Sample];
  let latest = nonPositive;
  let filled = false;
  let halved = true;
  while (Math.abs(latest.y) >= TOLERANCE) {
    const middle = (positive.at + nonPositive.at) / 2;
    const guess = halved ? vanishing(known) : middle;
    const inside = guess > positive.at && guess < nonPositive.at;
    const at = inside ? guess : middle;
    if (at === positive.at || at === nonPositive.at) break;
    filled = Math.abs(latest.y) < NEAR;
    const next = sample(w, Math.exp(at), filled);
    halved = Math.abs(next.y) < Math.abs(latest.y) / 2;
    latest = next;
    if (next.y > 0) positive = next;
    else nonPositive = next;
    if (known.push(next) > MOST_KNOWN) known.shift();
  }
  return root(latest, filled);
}

/** ln G at which y = 0 on the polynomial ln G(y) through samples, by Neville's scheme; NaN where two of them share a y. */
function vanishing(samples: readonly Sample[]): number {
  const p = samples.map(({ at }) => at);
  for (let span = 1; span < p.length; span++) {
    for (let i = 0; i + span < p.length; i++) {
      const left = samples[i]!.y;
      const right = samples[i + span]!.y;
      p[i] = (left * p[i + 1]! - right * p[i]!) / (left - right);
    }
  }
  return p[0]!;
}
