import type { Kept } from '../model/loop/workspace.ts';
import { toCase } from '../scenario/operating-point.ts';
import { type MachineExcess, machineExcess, withinMachine } from '../scenario/outcome/machine-limits.ts';
import { relativeMargin } from '../scenario/outcome/relative-margin.ts';
import { type Point, solvePoint } from '../scenario/outcome/solved.ts';
import { asksFeedAtChoke, isMet, marginOf } from '../scenario/outcome/spec.ts';
import type { Scenario } from '../scenario/scenario.ts';

/** One operating point held against the spec. */
export interface Standing {
  readonly point: Point;
  /** One a requirement, 0 at the limit, > 0 inside; −∞ where it does not exist or the mill chokes. */
  readonly relative: readonly number[];
  /** Whether each requirement is met. */
  readonly met: readonly boolean[];
  /** Whether the mill runs, the machine can do it, and every requirement is met. */
  readonly meets: boolean;
}

/**
 * Solves a scenario's operating point and holds it against the spec.
 *
 * @param kept arrays of the last point, used again: its classes are then overwritten, its conditions and standing are not
 */
export function standingOf(scenario: Scenario, kept?: Kept): Standing {
  const choke = asksFeedAtChoke({ spec: scenario.spec });
  return standingAt(scenario, solvePoint(toCase(scenario), { choke, ...(kept ? { kept } : {}) }));
}

/** A solved point held against the spec. */
export function standingAt({ spec }: Pick<Scenario, 'spec'>, point: Point): Standing {
  if (point.status === 'choked') {
    return {
      point,
      relative: spec.map(() => Number.NEGATIVE_INFINITY),
      met: spec.map(() => false),
      meets: false,
    };
  }
  const relative = spec.map((requirement) => {
    const margin = relativeMargin(requirement, point);
    return Number.isNaN(margin) ? Number.NEGATIVE_INFINITY : margin;
  });
  const met = spec.map((requirement) => isMet(requirement, marginOf(requirement, point)));
  return { point, relative, met, meets: met.every(Boolean) && withinMachine(point) };
}

/** A requirement, or a limit of the machine, that a point misses. */
export type Miss =
  | { readonly kind: 'requirement'; readonly place: number; readonly relative: number }
  | { readonly kind: 'machine'; readonly excess: MachineExcess; readonly relative: number };

/** All that a point which runs misses, worst first. */
export function missesOf({ point, relative, met }: Standing): Miss[] {
  if (point.status === 'choked') return [];
  const requirements = relative.flatMap((margin, place): Miss[] =>
    met[place] ? [] : [{ kind: 'requirement', place, relative: margin }],
  );
  const machine = machineExcess(point).map(
    (excess): Miss => ({ kind: 'machine', excess, relative: 1 - excess.value / excess.limit }),
  );
  return [...requirements, ...machine].sort((a, b) => a.relative - b.relative);
}

/** Place of the requirement with the smallest relative margin; −1 without requirements. */
export function nearestOf({ relative }: Pick<Standing, 'relative'>): number {
  const least = Math.min(...relative);
  return relative.indexOf(least);
}
