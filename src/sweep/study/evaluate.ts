import type { Kept } from '../../model/loop/workspace.ts';
import { undersizeAt } from '../../model/psd/curve.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import { isMet, marginOf } from '../../scenario/outcome/spec.ts';
import type { Factor, Scenario } from '../../scenario/scenario.ts';
import { toShown, toShownDifference } from '../../scenario/units/display.ts';
import { isNamed, shortest } from '../design/coordinate.ts';
import type { CompiledDesign } from '../design/design.ts';
import type { Block, Evaluate } from './column.ts';
import { type Layout, REASONS } from './columns.ts';
import { caseMaker } from './point-case.ts';

/** What one evaluator works on. */
export interface EvaluationSetup {
  readonly scenario: Scenario;
  readonly design: CompiledDesign;
  readonly layout: Layout;
  /** Sizes [m] at which undersize is kept; empty where no curves are. */
  readonly curveSizes: readonly number[];
}

/**
 * Evaluates runs of points of a study: (scenario, design, index) → columns. Keeps the model's arrays from point to
 * point, which changes no result.
 */
export function evaluator(setup: EvaluationSetup): Evaluate {
  const { scenario, design, layout, curveSizes } = setup;
  const { factors } = layout;
  const coordinates = new Float64Array(factors.length);
  const caseAt = caseMaker(scenario, factors);
  const write = rowWriter(layout);
  const kept: Kept = {};
  const choke = looksPastRoot(layout);
  return ({ first, count }) => {
    const values = new Float64Array(count * layout.columns.length);
    const curves =
      curveSizes.length > 0 ? new Float64Array(count * curveSizes.length).fill(Number.NaN) : undefined;
    for (let row = 0; row < count; row++) {
      design.fill(first + row, coordinates);
      const c = caseAt(coordinates);
      const point = solvePoint(c, { kept, choke });
      write(values, row, count, coordinates, point, c);
      if (curves !== undefined && point.status === 'steady') {
        const at = row * curveSizes.length;
        for (let k = 0; k < curveSizes.length; k++) curves[at + k] = undersizeAt(point.curve, curveSizes[k]!);
      }
    }
    const block: Block = { first, count, values };
    return curves === undefined ? block : { ...block, curves };
  };
}

/** Whether a column or the spec asks for the feed at which the mill chokes, which costs half a solve. */
function looksPastRoot({ quantities, spec }: Layout): boolean {
  const asks = quantities.some(({ quantity: { name } }) => NEEDS_CHOKE.has(name));
  return asks || spec.some(({ text }) => [...NEEDS_CHOKE].some((name) => text.includes(name)));
}

const NEEDS_CHOKE = new Set(['feedAtChoke', 'feedMargin']);

type RowWriter = (
  values: Float64Array,
  row: number,
  count: number,
  coordinates: Float64Array,
  point: Point,
  c: Solved['case'],
) => void;

function rowWriter({ factors, settings, quantities, spec }: Layout): RowWriter {
  const shown = factors.map(shownCoordinate);
  return (values, row, count, coordinates, point, c) => {
    let at = row;
    const put = (value: number): void => {
      values[at] = value;
      at += count;
    };
    for (let j = 0; j < shown.length; j++) put(shown[j]!(coordinates[j]!));
    const steady = point.status === 'steady';
    put(steady ? 0 : 1);
    put(steady ? Number.NaN : REASONS.indexOf(point.state.reason));
    for (const { quantity } of settings) put(toShown(quantity.of({ case: c } as Solved), quantity.shownIn));
    for (const { quantity, argument } of quantities) {
      put(
        toShown(
          steady ? quantity.of(point, argument) : ofChoked(quantity.name, point.state.feedAtChoke, c),
          quantity.shownIn,
        ),
      );
    }
    let all = steady && withinSpeeds(c);
    for (const requirement of spec) {
      const margin = steady ? marginOf(requirement, point) : Number.NaN;
      all &&= isMet(requirement, margin);
      put(toShownDifference(margin, requirement.shownIn));
    }
    if (spec.length > 0) put(all ? 1 : 0);
  };
}

/** Shafts turn no faster than they may, but for rounding: beyond that nothing counts as meeting a spec. */
function withinSpeeds({ settings, rotor, wheel }: Solved['case']): boolean {
  const allowed = 1 + 1e-9;
  return settings.rotorSpeed <= rotor.maxSpeed * allowed && settings.wheelSpeed <= wheel.maxSpeed * allowed;
}

/** Of a choked point only the feed at which it chokes is known. */
function ofChoked(name: string, feedAtChoke: number, c: Solved['case']): number {
  if (name === 'feedAtChoke') return feedAtChoke;
  return name === 'feedMargin' ? feedAtChoke / c.settings.feedRate - 1 : Number.NaN;
}

/** Coordinate → value of the factor's column: in its unit, or the code of the name. */
function shownCoordinate(factor: Factor): (coordinate: number) => number {
  if (factor.kind === 'levels' && isNamed(factor)) {
    const names = [...new Set(factor.levels)];
    const codes = factor.levels.map((level) => names.indexOf(level));
    return (coordinate) => codes[coordinate] ?? Number.NaN;
  }
  const { shownIn } = factor;
  return (coordinate) => shortest(toShown(coordinate, shownIn));
}
