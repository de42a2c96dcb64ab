import { unpackColumn } from '../report/pack.ts';
import type { PackedColumn, PackedSweep } from '../report/report-data.ts';
import type { SweepTable } from '../report/sweep-table.ts';

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
