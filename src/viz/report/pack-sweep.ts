import { packColumn } from './pack.ts';
import type { PackedColumn, PackedSweep } from './report-data.ts';
import type { SweepTable } from './sweep-table.ts';

/** Deflates bytes without header and writes them in base64. */
export type Deflate = (bytes: Uint8Array) => string;

/** A sweep's table as it travels in a page. */
export function packSweep(
  table: SweepTable,
  first: { readonly axes?: readonly [string, string]; readonly quantity: string },
  deflate: Deflate,
): PackedSweep {
  const pack = (values: ArrayLike<number>): PackedColumn => {
    const { scale, bytes } = packColumn(values);
    return { scale, bytes: deflate(bytes) };
  };
  return {
    points: table.points,
    factors: table.factors.map(({ values, ...factor }) => {
      const levels = distinct(values);
      const places = new Map(levels.map((level, place) => [level, place]));
      return {
        ...factor,
        levels,
        codes: pack(Array.from(values, (value) => places.get(value) ?? Number.NaN)),
      };
    }),
    quantities: table.quantities.map(({ values, ...rest }) => ({ ...rest, column: pack(values) })),
    limits: table.limits.map(({ values, ...rest }) => ({ ...rest, column: pack(values) })),
    ...(table.steady ? { steady: pack(table.steady) } : {}),
    reason: pack(table.reason),
    reasons: table.reasons,
    ...first,
  };
}

function distinct(values: ArrayLike<number>): number[] {
  const seen = new Set<number>();
  for (let i = 0; i < values.length; i++) if (!Number.isNaN(values[i]!)) seen.add(values[i]!);
  return [...seen].sort((a, b) => a - b);
}
