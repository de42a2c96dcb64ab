import type { Parameter } from '../../model/parameters.ts';

/** `settings.feedRate`. */
export const FEED_RATE: Parameter = {
  name: 'feedRate',
  symbol: 'F',
  unit: 'kg/s',
  shownIn: 'kg/h',
  meaning: 'feed rate',
  usual: { low: 0.5 / 3600, high: 50_000 / 3600 },
  exclusiveMinimum: 0,
  maximum: 100,
};
