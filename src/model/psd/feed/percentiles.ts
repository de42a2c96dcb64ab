import { normalCumulative } from '../../numerics/normal.ts';
import { newtonWithin } from '../../numerics/root.ts';
import type { Table } from '../../parameters.ts';
import { SIZE_COLUMN } from '../size-column.ts';
import type { FeedLaw } from './feed-law.ts';

/** Standard deviations at which a tail counts as ended: 1e-6. */
const TAIL = 4.7535;

/**
 * A curve through given percentiles, e.g. 10 %, 50 %, 90 %: straight between them in ln x against the normal deviate of Q
 * (so that three points of a log-normal give it back), the end pieces going straight on into the tails (`assumed`).
 */
export const percentiles: FeedLaw = {
  name: 'percentiles',
  summary: 'a curve through given percentiles',
  label: 'assumed',
  source: 'between and beyond the given percentiles: log-normal pieces',
  parameters: [],
  table: {
    columns: [
      {
        name: 'share',
        symbol: 'Q',
        unit: '1',
        shownIn: '%',
        meaning: 'share finer',
        exclusiveMinimum: 0,
        exclusiveMaximum: 1,
      },
      { ...SIZE_COLUMN, meaning: 'size at that share' },
    ],
    typical: [
      [0.1, 180e-6],
      [0.5, 500e-6],
      [0.9, 900e-6],
    ],
  },
  undersize: ({ points }, size) => normalCumulative(deviateAt(points as Table, Math.log(size))),
  top: ({ points }) => {
    const rows = points as Table;
    const [[shareA, sizeA], [shareB, sizeB]] = [rows.at(-2)!, rows.at(-1)!];
    const [zA, zB] = [normalDeviate(shareA), normalDeviate(shareB)];
    return sizeB * (sizeB / sizeA) ** ((TAIL - zB) / (zB - zA));
  },
};

function deviateAt(points: Table, logSize: number): number {
  let i = 0;
  while (i < points.length - 2 && Math.log(points[i + 1]![1]) < logSize) i++;
  const [low, high] = [points[i]!, points[i + 1]!];
  const t = (logSize - Math.log(low[1])) / Math.log(high[1] / low[1]);
  const from = normalDeviate(low[0]);
  return from + t * (normalDeviate(high[0]) - from);
}

/** z with Φ(z) = share, by bisection and Newton on the cumulative itself. */
export function normalDeviate(share: number): number {
  return newtonWithin(
    (z) => normalCumulative(z) - share,
    (z) => Math.exp(-(z * z) / 2) / Math.sqrt(2 * Math.PI),
    -9,
    9,
    0,
    1e-14,
  );
}
