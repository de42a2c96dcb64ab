import type { SweepTable, TableFactor } from '../../answers/sweep-table.ts';
import type { Lattice } from '../../search/window/lattice.ts';
import type { MarginBand, PlaneFields } from '../../search/window/window.ts';
import { readPlainData } from '../../sweep/store/plain-data.ts';
import { unpackColumn } from '../report/compress-columns.ts';
import type { PackedColumn, PackedFactor, PackedSweep, ReportData } from '../report/report-data.ts';
import { inflated } from './inflate.ts';

/** Reads a page's data; the lists in it that were typed arrays become such again. */
export function readData(text: string): ReportData {
  const data = readPlainData(text) as ReportData;
  return {
    ...data,
    bands: Object.fromEntries(Object.entries(data.bands ?? {}).map(([name, band]) => [name, bandOf(band)])),
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
  const reason = (await unpack(packed.reason)).map(Math.round);
  const runs = (row: number) => Number.isNaN(reason[row]!);
  const columnsOf = <T extends { readonly column: PackedColumn }>(all: readonly T[]) =>
    Promise.all(
      all.map(async ({ column, ...rest }) => ({
        ...rest,
        values: await unpack(column, column.masked ? runs : undefined),
      })),
    );
  const [factors, quantities, limits, steady] = await Promise.all([
    Promise.all(packed.factors.map(unpackFactor)),
    columnsOf(packed.quantities),
    columnsOf(packed.limits),
    packed.steady ? unpack(packed.steady) : undefined,
  ]);
  const { points, reasons } = packed;
  return { points, factors, quantities, limits, ...(steady ? { steady } : {}), reason, reasons };
}

async function unpackFactor({ column, levels, ...factor }: PackedFactor): Promise<TableFactor> {
  const read = await unpack(column);
  return { ...factor, values: levels ? read.map((place) => levels[Math.round(place)] ?? Number.NaN) : read };
}

async function unpack(
  { scale, bytes }: PackedColumn,
  runs?: (row: number) => boolean,
): Promise<Float64Array> {
  return unpackColumn(scale, await inflated(bytes), runs);
}
