import { areaOf, type Loop, type Stretch, stretchesOf } from './closed-curve.ts';
import { type Field, type Lattice, nodes } from './lattice.ts';
import { fillGaps, refineField, refineLattice } from './refine.ts';
import { regionWhere } from './region.ts';

/** One limit over the plane. */
export interface LimitField {
  /** Key to find it again: a spec line's text, or `choke`. */
  readonly name: string;
  /** > 0 inside the limit; NaN where the mill chokes. */
  readonly margin: Field;
  /** Where the margin may lie; absent where nothing is said to be uncertain. */
  readonly band?: MarginBand;
}

/** The middle of what a margin may be over a lattice of its own; NaN where that is not known. */
export interface MarginBand {
  readonly lattice: Lattice;
  readonly low: Field;
  readonly high: Field;
}

export interface PlaneFields {
  readonly lattice: Lattice;
  /** The quantity coloured; NaN where it does not exist. */
  readonly quantity: Field;
  /** Whether the quantity is smooth in its logarithm (sizes) rather than itself. */
  readonly logarithmic: boolean;
  readonly limits: readonly LimitField[];
  /** ≥ 0 where the mill runs steadily, defined everywhere: feed at choke over feed, less 1. */
  readonly steady?: Field;
}

/** A part of the plane where the quantity lies between two levels. */
export interface Band {
  /** Place among all bands, 0 below the first level. */
  readonly rank: number;
  readonly from: number;
  readonly to: number;
  readonly loops: readonly Loop[];
}

interface LimitLine {
  readonly name: string;
  /** Where the margin is zero; inside on the left. */
  readonly lines: readonly Stretch[];
  /** Where zero lies within the margin's band. */
  readonly band: readonly Loop[];
  /** Met nowhere or everywhere on this plane, or a line runs through it. */
  readonly reach: 'everywhere' | 'nowhere' | 'line';
}

/** A stretch of the region's edge with the limit active there; `rim` where the plane ends. */
export interface ActiveEdge {
  readonly limit: string;
  readonly x: readonly number[];
  readonly y: readonly number[];
}

/** What an operating window shows; places in the lattice's units. */
export interface OperatingWindow {
  readonly lattice: Lattice;
  /** All levels asked for, also those that do not cross this plane: colours follow them. */
  readonly levels: readonly number[];
  readonly bands: readonly Band[];
  readonly contours: readonly { readonly level: number; readonly lines: readonly Stretch[] }[];
  readonly limits: readonly LimitLine[];
  /** Where every limit is met and the mill runs. */
  readonly meeting: readonly Loop[];
  /** Share of the plane that meets everything. */
  readonly share: number;
  readonly edge: readonly ActiveEdge[];
  readonly choked: readonly Loop[];
}

export const RIM = 'rim';
export const CHOKE = 'choke';

/** Cells a lattice is refined to at least, along each axis. */
const SMOOTH = 36;

/**
 * The operating window of a plane: colour bands, limit lines, the region that meets everything, and which limit is
 * active along its edge.
 *
 * @param levels ascending levels of the quantity, that bound the bands
 */
export function operatingWindow(plane: PlaneFields, levels: readonly number[]): OperatingWindow {
  const { lattice } = plane;
  const times = refinement(lattice);
  const fine = refineLattice(lattice, times);
  const smooth = (field: Field) => refineField(lattice, fillGaps(lattice, field), times);
  const steady = plane.steady ? [smooth(plane.steady)] : [];
  const quantity = smooth(
    plane.logarithmic ? plane.quantity.map((value) => Math.log(value)) : plane.quantity,
  );
  const atLevel = levels.map((level) => (plane.logarithmic ? Math.log(level) : level));
  const margins = plane.limits.map(({ margin }) => smooth(margin));
  const all = [...margins, ...steady];
  const meeting = all.length === 0 ? [] : regionWhere(fine, all);
  const names = [...plane.limits.map(({ name }) => name), ...(plane.steady ? [CHOKE] : [])];
  return {
    lattice,
    levels,
    ...shade(fine, quantity, levels, atLevel, steady),
    limits: plane.limits.map((limit, k) => limitLine(fine, limit, margins[k]!, steady)),
    meeting,
    share: areaOf(meeting) / planeArea(lattice),
    edge: meeting.flatMap(stretchesOf).map(({ by, x, y }) => ({ limit: by < 0 ? RIM : names[by]!, x, y })),
    choked: plane.steady ? regionWhere(fine, [steady[0]!.map((value) => -value)]) : [],
  };
}

function shade(
  fine: Lattice,
  quantity: Field,
  levels: readonly number[],
  atLevel: readonly number[],
  steady: readonly Field[],
): Pick<OperatingWindow, 'bands' | 'contours'> {
  const above = atLevel.map((level) => quantity.map((value) => value - level));
  const bands: Band[] = [];
  const contours: { level: number; lines: Stretch[] }[] = [];
  for (let k = 0; k <= levels.length; k++) {
    const below = k < levels.length ? [above[k]!.map((value) => -value)] : [];
    const fields = [...(k > 0 ? [above[k - 1]!] : []), ...below, ...steady];
    const loops = regionWhere(fine, fields.length > 0 ? fields : [new Float64Array(nodes(fine))]);
    if (loops.length === 0) continue;
    const from = levels[k - 1] ?? Number.NEGATIVE_INFINITY;
    bands.push({ rank: k, from, to: levels[k] ?? Number.POSITIVE_INFINITY, loops });
    // the lower edge of a band is the line of its level
    const lines = k > 0 ? linesOf(loops) : [];
    if (lines.length > 0) contours.push({ level: levels[k - 1]!, lines });
  }
  return { bands, contours };
}

function limitLine(fine: Lattice, limit: LimitField, margin: Field, steady: readonly Field[]): LimitLine {
  const loops = regionWhere(fine, [margin, ...steady]);
  const lines = linesOf(loops);
  return {
    name: limit.name,
    lines,
    band: limit.band ? bandRegion(limit.band) : [],
    reach: lines.length > 0 ? 'line' : loops.length > 0 ? 'everywhere' : 'nowhere',
  };
}

/** Stretches along which the first field of a region is zero. */
function linesOf(loops: readonly Loop[]): Stretch[] {
  return loops.flatMap(stretchesOf).filter(({ by }) => by === 0);
}

/** Where a limit may run: low end below zero, high end above. */
function bandRegion({ lattice, low, high }: MarginBand): Loop[] {
  const times = refinement(lattice);
  const smooth = (field: Field) => refineField(lattice, fillGaps(lattice, field), times);
  const known = smooth(low.map((value) => (Number.isNaN(value) ? -1 : 1)));
  return regionWhere(refineLattice(lattice, times), [
    smooth(low).map((value) => -value),
    smooth(high),
    known,
  ]);
}

function refinement({ x, y }: Lattice): number {
  return Math.max(1, Math.ceil(SMOOTH / (Math.min(x.length, y.length) - 1)));
}

function planeArea({ x, y }: Lattice): number {
  return (x[x.length - 1]! - x[0]!) * (y[y.length - 1]! - y[0]!);
}
