import type { Scenario } from '../../scenario/scenario.ts';
import { placed } from '../../scenario/scenario-of-grade.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import type { Loop } from '../../search/window/closed-curve.ts';
import { type ActiveEdge, operatingWindow, type PlaneFields } from '../../search/window/window.ts';
import type { Measure } from '../measure.ts';
import { planeView } from '../plane.ts';
import { axesOf, planeAxis, positionOf } from '../sweep-position.ts';
import { endsOf, type SweepTable, tableGrid } from '../sweep-table.ts';
import { planeOf } from '../sweep-window.ts';
import { label } from '../text.ts';
import { withEverySpec } from './grade-of-sweep.ts';
import type { GradePoint } from './grade-point.ts';

/** What one grade takes of a plane. */
export interface GradeRegion {
  readonly grade: string;
  readonly meeting: readonly Loop[];
  /** Its edge in stretches, each with the limit that holds it there. */
  readonly edge: readonly ActiveEdge[];
  /** Share of the plane, 0…1. */
  readonly share: number;
}

/** All grades over the same two factors, all else as one of them is run. */
export interface GradePlane {
  /** What the plane is at: `medium leaning, feed rate 300 kg/h`; empty where nothing else was swept. */
  readonly at: string;
  readonly x: readonly [number, number];
  readonly y: readonly [number, number];
  readonly regions: readonly GradeRegion[];
  /** Shares of the plane that meet two grades at once. */
  readonly overlaps: readonly { readonly grades: readonly [string, string]; readonly share: number }[];
  readonly choked: readonly Loop[];
  /** Settings put forward that lie on this plane. */
  readonly marks: readonly { readonly grade: string; readonly x: number; readonly y: number }[];
}

/** Planes of one sweep, with axes in the units shown. */
export interface GradePlanesInput {
  readonly planes: readonly GradePlane[];
  readonly x: Measure;
  readonly y: Measure;
  /** Words for each limit. */
  readonly words: Readonly<Record<string, string>>;
  /** Limits that are not a grade's own: those every grade shares. */
  readonly shared: readonly string[];
}

/** Planes drawn at most. */
const MOST_PLANES = 6;
/** Two settings within this share of the range swept are drawn on one plane. */
const SAME = 0.02;
/** Pairs of grades whose overlap is measured. */
const MOST_PAIRS = 15;
const PLANE_NODES = 25;

type Position = Readonly<Record<string, number | string>>;

/**
 * The operating windows of all grades: over two factors, one plane for all grades that are run at the same other settings. The
 * axes are the pair of numbers that needs the fewest planes, wheel speed against rotor speed where that is as good.
 *
 * @param table of all grades: with the margins of every requirement
 * @returns undefined where fewer than two numbers were swept
 */
export function gradePlanes(
  scenario: Scenario,
  table: SweepTable,
  grades: readonly GradePoint[],
): GradePlanesInput | undefined {
  const grid = tableGrid(table);
  const first = axesOf(table, grid);
  if (!first || grades.length === 0) return undefined;
  const places = grades.map((grade) => ({ grade, at: positionOf(table, grade.scenario) }));
  const axes = pairsOf(table, first).reduce((a, b) =>
    groupsOf(table, b, places).length < groupsOf(table, a, places).length ? b : a,
  );
  const [x, y] = axes.map((path) => table.factors.find((factor) => factor.path === path)!);
  const quantity = table.quantities[0]?.of;
  if (quantity === undefined) return undefined;
  const every = withEverySpec(scenario);
  const planes = groupsOf(table, axes, places)
    .slice(0, MOST_PLANES)
    .map((group): GradePlane => {
      const { at, grade } = group[0]!;
      const fields = grid
        ? planeOf(table, grid, axes, at, quantity)
        : planeView(
            { ...grade.scenario, spec: every.spec },
            ...(axes.map((path) => planeAxis(table, path, PLANE_NODES)) as [never, never]),
            quantity,
          );
      return planeFrom(scenario, table, fields, {
        at: wordsOf(table, axes, at),
        marks: group.map((each) => ({
          grade: each.grade.name,
          x: each.at[axes[0]] as number,
          y: each.at[axes[1]] as number,
        })),
      });
    });
  const specs = Object.values(scenario.grades ?? {}).map(({ spec }) => new Set(spec.map(({ text }) => text)));
  return {
    planes,
    x: x!.measure,
    y: y!.measure,
    words: Object.fromEntries(table.limits.map(({ name, words }) => [name, words])),
    shared: table.limits
      .filter(({ kind, name }) => kind === 'machine' || specs.every((spec) => spec.has(name)))
      .map(({ name }) => name),
  };
}

function pairsOf(table: SweepTable, first: readonly [string, string]): (readonly [string, string])[] {
  const numbers = table.factors
    .filter(({ names, values }) => !names && isVaried(values))
    .map(({ path }) => path);
  const pairs = numbers.flatMap((a, i) => numbers.slice(i + 1).map((b) => [a, b] as const));
  return [first, ...pairs];
}

function isVaried(values: ArrayLike<number>): boolean {
  const [low, high] = endsOf(values);
  return high > low;
}

interface Placed {
  readonly grade: GradePoint;
  readonly at: Position;
}

/** Grades that stand on one plane, group by group. */
function groupsOf(table: SweepTable, axes: readonly [string, string], places: readonly Placed[]): Placed[][] {
  const groups: Placed[][] = [];
  for (const place of places) {
    const own = groups.find(([first]) => isOnPlane(table, axes, first!.at, place.at));
    if (own) own.push(place);
    else groups.push([place]);
  }
  return groups;
}

function isOnPlane(table: SweepTable, axes: readonly [string, string], a: Position, b: Position): boolean {
  return table.factors.every(({ path, names, values }) => {
    if (axes.includes(path)) return true;
    const [p, q] = [a[path], b[path]];
    if (names || typeof p !== 'number' || typeof q !== 'number') return p === q;
    const [low, high] = endsOf(values);
    return Math.abs(p - q) <= SAME * (high - low);
  });
}

function wordsOf(table: SweepTable, axes: readonly [string, string], at: Position): string {
  return table.factors
    .filter(({ path }) => !axes.includes(path))
    .map(({ path, names, measure }) => {
      const value = at[path]!;
      if (names || typeof value !== 'number') return label(String(value));
      return `${measure.name} ${formatNumber(value, 3)} ${measure.unit}`.trim();
    })
    .join(', ');
}

function planeFrom(
  scenario: Scenario,
  table: SweepTable,
  fields: PlaneFields,
  rest: Pick<GradePlane, 'at' | 'marks'>,
): GradePlane {
  const machine = new Set(table.limits.filter(({ kind }) => kind === 'machine').map(({ name }) => name));
  const specs = placed(scenario.grades).map(
    ([name, { spec }]) => [name, new Set(spec.map(({ text }) => text))] as const,
  );
  const windowOf = (...required: readonly ReadonlySet<string>[]) =>
    operatingWindow(
      {
        ...fields,
        limits: fields.limits.filter(
          ({ name }) => machine.has(name) || required.some((spec) => spec.has(name)),
        ),
      },
      [],
    );
  const regions = specs.map(([grade, spec]): GradeRegion => {
    const { meeting, edge, share } = windowOf(spec);
    return { grade, meeting, edge, share };
  });
  const pairs = specs.flatMap((a, i) => specs.slice(i + 1).map((b) => [a, b] as const));
  const overlaps = pairs.slice(0, MOST_PAIRS).map(([[a, first], [b, second]]) => ({
    grades: [a, b] as const,
    share: windowOf(first, second).share,
  }));
  const { x, y } = fields.lattice;
  return {
    ...rest,
    x: [x[0]!, x[x.length - 1]!],
    y: [y[0]!, y[y.length - 1]!],
    regions,
    overlaps,
    choked: windowOf().choked,
  };
}
