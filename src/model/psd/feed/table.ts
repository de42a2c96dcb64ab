import { interpolate } from '../../numerics/interpolate.ts';
import type { Table } from '../../parameters.ts';
import { SIZE_COLUMN } from '../size-column.ts';
import type { FeedLaw } from './feed-law.ts';

/**
 * Size and cumulative undersize as measured, monotone cubic in ln x between the rows. Below the first row the curve goes
 * on to zero as a power law through the first two rows; above the last it is complete (a last row below 100 % is scaled
 * up by the reader, and said).
 */
export const table: FeedLaw = {
  name: 'table',
  summary: 'measured points: size and cumulative undersize',
  label: 'given',
  source: 'user’s points',
  parameters: [],
  table: {
    columns: [
      SIZE_COLUMN,
      {
        name: 'undersize',
        symbol: 'Q',
        unit: '1',
        shownIn: '%',
        meaning: 'cumulative undersize',
        minimum: 0,
        maximum: 1,
      },
    ],
    typical: [
      [10e-6, 0.05],
      [100e-6, 0.4],
      [1e-3, 1],
    ],
  },
  undersize: ({ points }, size) => tabulated(points as Table, size),
  top: ({ points }) => {
    const rows = points as Table;
    const full = rows.find(([, share]) => share >= 1 - 1e-9);
    return (full ?? rows.at(-1)!)[0];
  },
};

function tabulated(points: Table, size: number): number {
  const [first, second] = points;
  if (size >= first![0]) return interpolate(points, size);
  const share = first![1];
  if (share === 0 || second === undefined || second[1] <= share)
    return share === 0 ? 0 : share * (size / first![0]);
  const exponent = Math.log(second[1] / share) / Math.log(second[0] / first![0]);
  return share * (size / first![0]) ** exponent;
}
