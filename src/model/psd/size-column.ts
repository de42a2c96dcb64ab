import type { Parameter } from '../parameters.ts';

/** The column of sizes in a user's table: above nothing, up to 1 m. */
export const SIZE_COLUMN: Parameter = {
  name: 'size',
  symbol: 'x',
  unit: 'm',
  shownIn: 'um',
  meaning: 'size',
  usual: { low: 0.02e-6, high: 0.05 },
  exclusiveMinimum: 0,
  maximum: 1,
};
