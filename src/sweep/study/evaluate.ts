import { fillUndersize, wholeProduct } from '../../model/loop/mass-balance.ts';
import { solve } from '../../model/loop/solve.ts';
import type { State, SteadyState } from '../../model/loop/state.ts';
import type { Kept } from '../../model/loop/workspace.ts';
import { fillSlopes, type SizeCurve, undersizeAt } from '../../model/psd/curve.ts';
import { isNamed, shortest } from '../../scenario/design/coordinate.ts';
import type { CompiledDesign } from '../../scenario/design/design.ts';
import type { SitedCase } from '../../scenario/operating-point.ts';
import { withinMachine } from '../../scenario/outcome/machine-limits.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import { asksFeedAtChoke, isMet, marginOf } from '../../scenario/outcome/spec.ts';
import type { Factor, Scenario } from '../../scenario/scenario.ts';
import { shownIn } from '../../scenario/units/display.ts';
import type { Block, Evaluate } from './column.ts';
import { caseMaker } from './point-case.ts';
import { type Layout, REASONS } from './study-columns.ts';

/** What one evaluator works on. */
interface EvaluationSetup {
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
  const quantities = layout.quantities.map(({ quantity }) => quantity.name);
  const choke = asksFeedAtChoke({ spec: layout.spec, quantities });
  const width = layout.columns.length;
  const tile = new Float64Array(TILE * width);
  const curveAt = curveMaker();
  return ({ first, count }) => {
    const values = new Float64Array(count * width);
    const curves =
      curveSizes.length > 0 ? new Float64Array(count * curveSizes.length).fill(Number.NaN) : undefined;
    for (let row = 0; row < count; row++) {
      design.fill(first + row, coordinates);
      const c = caseAt(coordinates);
      const point = c.plant
        ? solvePoint(c, { kept, choke })
        : millPoint(c, solve(c, { kept, choke }), curveAt);
      write(tile, (row % TILE) * width, coordinates, point, c);
      if (row % TILE === TILE - 1 || row === count - 1) fillColumns(tile, width, values, row, count);
      if (curves !== undefined && point.status === 'steady') {
        const at = row * curveSizes.length;
        for (let k = 0; k < curveSizes.length; k++) curves[at + k] = undersizeAt(point.curve, curveSizes[k]!);
      }
    }
    const block: Block = { first, count, values };
    return curves === undefined ? block : { ...block, curves };
  };
}

/** `solvePoint` of a mill without plant, with a curve into kept arrays. */
function millPoint(c: SitedCase, state: State, curveAt: (state: SteadyState) => SizeCurve): Point {
  if (state.status === 'choked') return { status: 'choked', state };
  return { status: 'steady', case: c, state, curve: curveAt(state) };
}

/** `productCurve` into the same arrays again and again: two fresh ones a point cost as much as the inversions. */
function curveMaker(): (state: SteadyState) => SizeCurve {
  let undersize = new Float64Array(0);
  let slopes = new Float64Array(0);
  return (state) => {
    const { edges, logRatio } = state.grid;
    if (undersize.length !== edges.length) {
      undersize = new Float64Array(edges.length);
      slopes = new Float64Array(edges.length);
    }
    fillUndersize(wholeProduct(state), undersize);
    fillSlopes(undersize, logRatio, slopes);
    return { edges, undersize, slopes };
  };
}

/**
 * Rows gathered before they are spread over the columns. Written one by one, a row would touch a line of the cache in
 * every column, and with a power of two of rows all those lines fall on the same few places of it: a quarter slower.
 */
const TILE = 32;

/** Spreads the rows of a tile that ends with row `last` over the columns. */
function fillColumns(
  tile: Float64Array,
  width: number,
  values: Float64Array,
  last: number,
  count: number,
): void {
  const first = last - (last % TILE);
  for (let c = 0; c < width; c++) {
    for (let row = first; row <= last; row++) values[c * count + row] = tile[(row - first) * width + c]!;
  }
}

/** Writes a point's columns one after another from a place on. */
type RowWriter = (
  values: Float64Array,
  start: number,
  coordinates: Float64Array,
  point: Point,
  c: Solved['case'],
) => void;

function rowWriter({ factors, settings, quantities, spec, verdicts }: Layout): RowWriter {
  const shown = factors.map(shownCoordinate);
  const settingColumns = settings.map(({ quantity }) => ({
    of: quantity.of,
    show: shownIn(quantity.shownIn),
  }));
  const columns = quantities.map(({ quantity, argument }) => {
    const { of, ofFeedAtChoke } = quantity;
    return { of, ofChoked: ofFeedAtChoke ?? missing, argument, show: shownIn(quantity.shownIn) };
  });
  const lines = spec.map((requirement) => ({
    requirement,
    show: shownIn(requirement.shownIn, 'difference'),
  }));
  const met = spec.map(() => false);
  return (values, start, coordinates, point, c) => {
    let at = start;
    const put = (value: number): void => {
      values[at++] = value;
    };
    for (let j = 0; j < shown.length; j++) put(shown[j]!(coordinates[j]!));
    const steady = point.status === 'steady';
    put(steady ? 0 : 1);
    put(steady ? Number.NaN : REASONS.indexOf(point.state.reason));
    for (const { of, show } of settingColumns) put(show(of(steady ? point : ({ case: c } as Solved))));
    for (const { of, ofChoked, argument, show } of columns) {
      put(show(steady ? of(point, argument) : ofChoked(point.state.feedAtChoke, c.settings.feedRate)));
    }
    const runs = steady && withinMachine(point);
    for (let k = 0; k < lines.length; k++) {
      const { requirement, show } = lines[k]!;
      const margin = steady ? marginOf(requirement, point) : Number.NaN;
      met[k] = isMet(requirement, margin);
      put(show(margin));
    }
    for (const { places } of verdicts) put(runs && places.every((place) => met[place]) ? 1 : 0);
  };
}

function missing(): number {
  return Number.NaN;
}

/** Coordinate → value of the factor's column: in its unit, or the code of the name. */
function shownCoordinate(factor: Factor): (coordinate: number) => number {
  if (factor.kind === 'levels' && isNamed(factor)) {
    const names = [...new Set(factor.levels)];
    const codes = factor.levels.map((level) => names.indexOf(level));
    return (coordinate) => codes[coordinate] ?? Number.NaN;
  }
  const show = shownIn(factor.shownIn);
  return (coordinate) => shortest(show(coordinate));
}
