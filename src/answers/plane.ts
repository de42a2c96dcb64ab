import type { Kept } from '../model/loop/workspace.ts';
import { type SitedCase, toCase, withValues } from '../scenario/operating-point.ts';
import { machineMargins } from '../scenario/outcome/machine-limits.ts';
import { quantityNamed } from '../scenario/outcome/quantities.ts';
import { type Point, solvePoint } from '../scenario/outcome/solved.ts';
import { marginOf } from '../scenario/outcome/spec.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { fromShown, toShown } from '../scenario/units/display.ts';
import { type Lattice, nodes } from '../search/window/lattice.ts';
import type { LimitField, PlaneFields } from '../search/window/window.ts';
import { pageUnit, quantityParts, sizeLike } from './words.ts';

/** A factor along an axis; levels in the unit shown. */
export interface PlaneAxis {
  readonly path: string;
  readonly as?: 'shaft' | 'rim';
  readonly shownIn: string;
  readonly levels: Float64Array;
}

/**
 * One plane of two factors, solved node by node: the same fields a slice of a grid sweep gives. Where something is required the
 * limits of the machine count too: no settings beyond them meet a spec.
 *
 * @param quantity name of the quantity to colour
 */
export function planeView(scenario: Scenario, x: PlaneAxis, y: PlaneAxis, quantity: string): PlaneFields {
  const lattice: Lattice = { x: x.levels, y: y.levels };
  const size = nodes(lattice);
  const field = new Float64Array(size);
  const steady = new Float64Array(size);
  const margins = scenario.spec.map(() => new Float64Array(size));
  const { name, argument } = quantityParts(quantity);
  const of = quantityNamed(name)!;
  const unit = pageUnit(name);
  const machine = new Map<string, Float64Array>();
  solveNodes(scenario, x, y, (point, node, c) => {
    steady[node] = point.state.feedAtChoke / c.settings.feedRate - 1;
    field[node] = point.status === 'steady' ? toShown(of.of(point, argument), unit) : Number.NaN;
    scenario.spec.forEach((requirement, k) => {
      margins[k]![node] = point.status === 'steady' ? marginOf(requirement, point) : Number.NaN;
    });
    const state = point.status === 'steady' ? point.state : undefined;
    for (const { name: limit, margin } of machineMargins(c, state)) {
      if (!machine.has(limit)) machine.set(limit, new Float64Array(size));
      machine.get(limit)![node] = margin;
    }
  });
  const limits = [
    ...scenario.spec.map(({ text }, k): LimitField => ({ name: text, margin: margins[k]! })),
    ...(scenario.spec.length > 0
      ? [...machine].map(([limit, margin]): LimitField => ({ name: limit, margin }))
      : []),
  ];
  return { lattice, quantity: field, logarithmic: sizeLike(of), limits, steady };
}

/** Calls back for each node of a plane; the point's arrays are reused by the next node. */
function solveNodes(
  scenario: Scenario,
  x: PlaneAxis,
  y: PlaneAxis,
  each: (point: Point, node: number, c: SitedCase) => void,
): void {
  const kept: Kept = {};
  let node = 0;
  for (const yLevel of y.levels) {
    for (const xLevel of x.levels) {
      const at = withValues(scenario, [x, y], [fromShown(xLevel, x.shownIn), fromShown(yLevel, y.shownIn)]);
      const c = toCase(at);
      each(solvePoint(c, { kept }), node++, c);
    }
  }
}
