import { interpolate } from '../../model/numerics/interpolate.ts';
import type { LawChoice, Table } from '../../model/parameters.ts';
import { formatNumber } from '../units/display.ts';
import type { Node } from './node.ts';
import { type Context, fault } from './reading-context.ts';

/** How far from ½ a typed efficiency may stand at the cut: reading off a plot. */
const HALF_TOLERANCE = 0.02;
const percent = (share: number) => `${formatNumber(100 * share)} %`;

/** Faults for a cumulative table that falls anywhere. */
export function checkRising(context: Context, node: Node | undefined, path: string, points: Table): void {
  for (let i = 1; i < points.length; i++) {
    if (points[i]![1] >= points[i - 1]![1]) continue;
    fault(
      context,
      node,
      `${path}[${i}]`,
      `must not fall: it is cumulative, and ${percent(points[i]![1])} follows ${percent(points[i - 1]![1])}`,
    );
  }
}

/** Checks of a fragment law that is a table. */
export function checkFragments(
  context: Context,
  node: Node | undefined,
  path: string,
  { points }: LawChoice,
): void {
  if (Array.isArray(points)) checkRising(context, node, `${path}.points`, points as Table);
}

/** Checks of an efficiency that is a table: it rises through 25 and 75 %, and is 50 % at the cut. */
export function checkEfficiency(
  context: Context,
  node: Node | undefined,
  path: string,
  { points }: LawChoice,
): void {
  if (!Array.isArray(points)) return;
  const rows = points as Table;
  const place = `${path}.points`;
  checkRising(context, node, place, rows);
  if (!(rows[0]![1] < 0.25 && rows.at(-1)![1] > 0.75)) {
    fault(
      context,
      node,
      place,
      `must reach from below 25 % to above 75 %, reaches from ${percent(rows[0]![1])} to ${percent(rows.at(-1)![1])}`,
    );
    return;
  }
  const half = interpolate(rows, 1);
  if (Math.abs(half - 0.5) > HALF_TOLERANCE) {
    fault(
      context,
      node,
      place,
      `must be 50 % at a ratio of 1, because ratios count from the cut size; is ${percent(half)} there`,
    );
  }
}
