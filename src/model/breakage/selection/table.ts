import { interpolate } from '../../numerics/interpolate.ts';
import type { Table } from '../../parameters.ts';
import { SIZE_COLUMN } from '../../psd/size-column.ts';
import { farFromReference } from './reference-speed.ts';
import type { SelectionLaw } from './selection-law.ts';

/** Points of size and breakage probability at the reference speed, monotone in between; energy scales it (eq. 10). */
export const table: SelectionLaw = {
  name: 'table',
  summary: 'the user’s points of size and breakage probability at a reference speed',
  label: 'given',
  source: 'user’s points; their growth with the square of the impact speed is assumed',
  parameters: [
    {
      name: 'referenceSpeed',
      symbol: 'v_ref',
      unit: 'm/s',
      shownIn: 'm/s',
      meaning: 'impact speed at which the points hold',
      exclusiveMinimum: 0,
      preset: { value: 80, label: 'assumed', source: 'reference of the points' },
    },
  ],
  table: {
    columns: [
      SIZE_COLUMN,
      {
        name: 'probability',
        symbol: 'S',
        unit: '1',
        shownIn: '%',
        meaning: 'breakage probability of one hit',
        minimum: 0,
        maximum: 1,
      },
    ],
    typical: [
      [5e-6, 0],
      [50e-6, 0.2],
      [500e-6, 0.9],
    ],
  },
  probability: ({ points, referenceSpeed }, size, { speed }) => {
    const stated = interpolate(points as Table, size);
    return Math.min(1, stated * (speed / (referenceSpeed as number)) ** 2);
  },
  grindLimit: ({ points }) => {
    const rows = points as Table;
    let limit = 0;
    for (const [size, probability] of rows) {
      if (probability > 0) break;
      limit = size;
    }
    return limit;
  },
  outside: ({ referenceSpeed }, { speed }) => farFromReference(referenceSpeed as number, speed),
};
