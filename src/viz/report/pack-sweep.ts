import type { SweepTable } from '../../answers/sweep-table.ts';
import { packColumn } from './compress-columns.ts';
import type { PackedColumn, PackedSweep } from './report-data.ts';

/** Deflates bytes without header and writes them in base64. */
export type Deflate = (bytes: Uint8Array) => string;

/** A sweep's table as it travels in a page. */
export function packSweep(
  table: SweepTable,
  first: { readonly axes?: readonly [string, string]; readonly quantity: string },
  deflate: Deflate,
): PackedSweep {
  const stride = strideOf(table);
  const pack = (values: ArrayLike<number>, runs?: (row: number) => boolean): PackedColumn => {
    const { scale, bytes } = packColumn(values, { stride, ...(runs ? { runs } : {}) });
    return { scale, bytes: deflate(bytes), masked: runs !== undefined };
  };
  const runs = (row: number) => Number.isNaN(table.reason[row]!);
  return {
    points: table.points,
    factors: table.factors.map(({ values, ...factor }) => {
      const levels = distinct(values);
      if (levels.length > MOST_LEVELS) return { ...factor, column: pack(values) };
      const places = new Map(levels.map((level, place) => [level, place]));
      const codes = Array.from(values, (value) => places.get(value) ?? Number.NaN);
      return { ...factor, levels, column: pack(codes) };
    }),
    quantities: table.quantities.map(({ values, ...rest }) => ({
      ...rest,
      column: pack(values, runsOf(values, runs)),
    })),
    limits: table.limits.map(({ values, ...rest }) => ({
      ...rest,
      column: pack(values, runsOf(values, runs)),
    })),
    ...(table.steady ? { steady: pack(table.steady) } : {}),
    reason: pack(table.reason),
    reasons: table.reasons,
    ...first,
  };
}

/** Levels a factor may have to travel as exact values; more make a column of its own. */
const MOST_LEVELS = 512;

/** A column known of choked points too (feed at choke) must not lose them. */
function runsOf(
  values: ArrayLike<number>,
  runs: (row: number) => boolean,
): ((row: number) => boolean) | undefined {
  for (let row = 0; row < values.length; row++)
    if (!runs(row) && Number.isFinite(values[row]!)) return undefined;
  return runs;
}

/** Points after which the fastest factor starts anew: how often the first point's value of it recurs. */
function strideOf({ factors, points }: SweepTable): number {
  const fastest = factors.find(({ values }) => points > 1 && values[0] !== values[1]);
  if (!fastest) return 0;
  for (let row = 1; row < points; row++) if (fastest.values[row] === fastest.values[0]) return row;
  return 0;
}

function distinct(values: ArrayLike<number>): number[] {
  const seen = new Set<number>();
  for (let i = 0; i < values.length; i++) if (!Number.isNaN(values[i]!)) seen.add(values[i]!);
  return [...seen].sort((a, b) => a - b);
}
