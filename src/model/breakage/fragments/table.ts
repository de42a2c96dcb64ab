import { interpolate } from '../../numerics/interpolate.ts';
import type { Table } from '../../parameters.ts';
import type { FragmentLaw } from './fragment-law.ts';

/** Points of size ratio x/y and B, monotone in between (eq. 15); below the first a power law to zero. */
export const table: FragmentLaw = {
  name: 'table',
  summary: 'the user’s points of size ratio and undersize of the fragments',
  label: 'given',
  source: 'user’s points',
  parameters: [],
  table: {
    columns: [
      {
        name: 'ratio',
        symbol: 'x/y',
        unit: '1',
        shownIn: '1',
        meaning: 'size over parent size',
        exclusiveMinimum: 0,
        exclusiveMaximum: 1,
      },
      {
        name: 'undersize',
        symbol: 'B',
        unit: '1',
        shownIn: '%',
        meaning: 'share of the fragments finer',
        minimum: 0,
        maximum: 1,
      },
    ],
    typical: [
      [0.01, 0.02],
      [0.1, 0.15],
      [0.5, 0.5],
    ],
  },
  undersize: ({ points }, size, parent) => {
    if (size >= parent) return 1;
    const rows = points as Table;
    const [ratio, share] = rows[0]!;
    const z = size / parent;
    if (z < ratio) return share * (z / ratio);
    return Math.min(1, interpolate([...rows, [1, 1]], z));
  },
  outside: () => [],
};
