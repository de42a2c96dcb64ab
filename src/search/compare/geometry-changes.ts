import { toCase, valueAt, withValue } from '../../scenario/operating-point.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { cutSizeOf } from './values.ts';

const KEYS = ['diameter', 'height', 'vanes', 'thickness', 'lean'] as const;

/** What one change of a wheel's geometry does, its speed held; relative, 0.1 is 10 % more. */
export interface GeometryChange {
  readonly key: (typeof KEYS)[number];
  /** Value before and after, SI. */
  readonly from: number;
  readonly to: number;
  readonly cut: number;
  readonly choke: number;
}

/** A tenth more of every length; lean by five degrees (`form`). */
const MORE = 0.1;
const LEAN = (5 * Math.PI) / 180;

/**
 * What 10 % more of each length and number of the chosen wheel, and 5° more lean, do to its cut and to the feed at choke, speed
 * held. Vanes come in whole numbers: the nearest to 10 % more, at least one more.
 */
export function geometryChanges(scenario: Scenario): GeometryChange[] {
  const solved = solvePoint(toCase(scenario));
  if (solved.status === 'choked') return [];
  return KEYS.flatMap((key): GeometryChange[] => {
    const path = pathOf(scenario, key);
    const from = valueAt(scenario, path);
    if (typeof from !== 'number') return [];
    const to = changed(key, from);
    const after = solvePoint(toCase(withValue(scenario, path, to)));
    if (after.status === 'choked') return [{ key, from, to, cut: Number.NaN, choke: Number.NaN }];
    return [
      {
        key,
        from,
        to,
        cut: cutSizeOf(after) / cutSizeOf(solved) - 1,
        choke: after.state.feedAtChoke / solved.state.feedAtChoke - 1,
      },
    ];
  });
}

function changed(key: (typeof KEYS)[number], from: number): number {
  if (key === 'lean') return from + LEAN;
  if (key === 'vanes') return Math.max(from + 1, Math.round(from * (1 + MORE)));
  return from * (1 + MORE);
}

function pathOf({ settings }: Scenario, key: string): string {
  return `machine.wheels.${settings.wheel}.geometry.${key}`;
}
