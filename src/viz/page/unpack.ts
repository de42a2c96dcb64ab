import type { Lattice } from '../../search/window/lattice.ts';
import type { MarginBand, PlaneFields } from '../../search/window/window.ts';
import { readPlainData } from '../../sweep/store/plain-data.ts';
import { unpackColumn } from '../report/pack.ts';
import type { PackedColumn, PackedSweep, ReportData } from '../report/report-data.ts';
import type { SweepTable } from '../report/sweep-table.ts';

/** Reads a page's data; the lists in it that were typed arrays become such again. */
export function readData(text: string): ReportData {
  const data = readPlainData(text) as ReportData;
  return {
    ...data,
    bands: Object.fromEntries(Object.entries(data.bands).map(([name, band]) => [name, bandOf(band)])),
    ...(data.plane ? { plane: planeOf(data.plane) } : {}),
  };
}

const latticeOf = ({ x, y }: Lattice): Lattice => ({ x: Float64Array.from(x), y: Float64Array.from(y) });

function bandOf({ lattice, low, high }: MarginBand): MarginBand {
  return { lattice: latticeOf(lattice), low: Float64Array.from(low), high: Float64Array.from(high) };
}

function planeOf(plane: PlaneFields): PlaneFields {
  return {
    ...plane,
    lattice: latticeOf(plane.lattice),
    quantity: Float64Array.from(plane.quantity),
    limits: plane.limits.map(({ name, margin }) => ({ name, margin: Float64Array.from(margin) })),
    ...(plane.steady ? { steady: Float64Array.from(plane.steady) } : {}),
  };
}

/** Reads the packed sweep of a page. */
export async function unpackSweep(packed: PackedSweep): Promise<SweepTable> {
  const [factors, quantities, limits, steady, reason] = await Promise.all([
    Promise.all(
      packed.factors.map(async ({ codes, levels, ...factor }) => {
        const places = await unpack(codes);
        return { ...factor, values: places.map((place) => levels[Math.round(place)] ?? Number.NaN) };
      }),
    ),
    Promise.all(
      packed.quantities.map(async ({ column, ...rest }) => ({ ...rest, values: await unpack(column) })),
    ),
    Promise.all(
      packed.limits.map(async ({ column, ...rest }) => ({ ...rest, values: await unpack(column) })),
    ),
    packed.steady ? unpack(packed.steady) : undefined,
    unpack(packed.reason),
  ]);
  return {
    points: packed.points,
    factors,
    quantities,
    limits,
    ...(steady ? { steady } : {}),
    reason: reason.map((place) => Math.round(place)),
    reasons: packed.reasons,
  };
}

async function unpack({ scale, bytes }: PackedColumn): Promise<Float64Array> {
  const deflated = Uint8Array.from(atob(bytes), (each) => each.charCodeAt(0));
  const stream = new Blob([deflated]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
  return unpackColumn(scale, new Uint8Array(await new Response(stream).arrayBuffer()));
}
