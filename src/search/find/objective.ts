import type { Case } from '../../model/case.ts';
import type { Kept } from '../../model/loop/workspace.ts';
import type { Expression, Requirement } from '../../scenario/expression/expression.ts';
import { weakHits } from '../../scenario/outcome/operating-cautions.ts';
import { SPEED_ROUNDING } from '../../scenario/outcome/overspeed.ts';
import { marginScale } from '../../scenario/outcome/relative-margin.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import { asksFeedAtChoke, expressionValue, isMet, marginOf } from '../../scenario/outcome/spec.ts';
import type { Factor, Scenario } from '../../scenario/scenario.ts';
import { caseMaker } from '../../sweep/study/point-case.ts';

/** How good one point is. */
export interface Merit {
  /** What the goal makes large; NaN where the point does not exist. */
  readonly goal: number;
  /** 0 where every limit holds; else the sum of the shares by which limits are missed. */
  readonly violation: number;
  /** True where hits are too weak for what the wheel holds back: chosen only where nothing else holds every limit. */
  readonly weakHits?: boolean;
}

/** What is judged: the lines of the spec, each with a reserve kept inside its limit (SI), and the goal. */
export interface Judged {
  readonly spec: readonly Requirement[];
  /** Margin that each line must keep, SI; absent is 0. */
  readonly reserves?: readonly number[];
  readonly goal?: { readonly sense: 'maximise' | 'minimise'; readonly expression: Expression };
}

type Judge = (coordinates: Float64Array) => Merit;

const CHOKED = 100;

/**
 * Judges points of a space. Besides the spec a point must turn no shaft faster than allowed and ask no more of the motor
 * than it gives: a point that cannot be run is no answer.
 */
export function judgeOf(scenario: Scenario, factors: readonly Factor[], judged: Judged): Judge {
  const caseAt = caseMaker(scenario, factors);
  const kept: Kept = {};
  const choke = asksFeedAtChoke(judged);
  return (coordinates) => {
    const c = caseAt(coordinates);
    return meritOf(c, solvePoint(c, { kept, choke }), judged);
  };
}

/** Merit of a solved point. */
export function meritOf(c: Case, point: Point, judged: Judged): Merit {
  const speed = overspeed(c);
  if (point.status === 'choked') {
    const beyond = Math.log(c.settings.feedRate / point.state.feedAtChoke);
    return {
      goal: Number.NaN,
      violation: CHOKED + speed + (Number.isFinite(beyond) ? Math.max(0, beyond) : 10),
    };
  }
  const { rotorPower, availablePower } = point.state.conditions;
  let violation = speed + Math.max(0, rotorPower / availablePower - 1);
  let least = Number.POSITIVE_INFINITY;
  judged.spec.forEach((requirement, k) => {
    const margin = marginOf(requirement, point) - (judged.reserves?.[k] ?? 0);
    const scale = marginScale(requirement, point);
    least = Math.min(least, margin / scale);
    if (!isMet(requirement, margin)) violation += Number.isNaN(margin) ? 1 : Math.max(-margin / scale, 1e-12);
  });
  const weak = weakHits(c, point.state).length > 0;
  if (!judged.goal) return { goal: Number.isFinite(least) ? least : 0, violation, weakHits: weak };
  const value = expressionValue(judged.goal.expression, point);
  return { goal: judged.goal.sense === 'maximise' ? value : -value, violation, weakHits: weak };
}

function overspeed({ settings, rotor, wheel }: Case): number {
  const rotorBy = settings.rotorSpeed / (rotor.maxSpeed * SPEED_ROUNDING) - 1;
  const wheelBy = settings.wheelSpeed / (wheel.maxSpeed * SPEED_ROUNDING) - 1;
  return Math.max(0, rotorBy) + Math.max(0, wheelBy);
}

/**
 * Whether one merit is better than another: what holds every limit first, then what breaks all that the wheel holds back,
 * then the goal; else the smaller miss.
 */
export function isBetter(a: Merit, b: Merit): boolean {
  if (a.violation > 0 || b.violation > 0) return a.violation < b.violation;
  if ((a.weakHits ?? false) !== (b.weakHits ?? false)) return !a.weakHits;
  if (Number.isNaN(b.goal)) return !Number.isNaN(a.goal);
  return a.goal > b.goal;
}
