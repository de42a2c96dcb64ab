import type { Parameter } from '../../model/parameters.ts';

/** `settings.feedRate`. */
export const FEED_RATE: Parameter = {
  name: 'feedRate',
  symbol: 'F',
  unit: 'kg/s',
  shownIn: 'kg/h',
  meaning: 'feed rate',
  exclusiveMinimum: 0,
  maximum: 100,
};
