import type { FeedLaw } from './feed-law.ts';

/** Q = (x/x_max)^m up to x_max (Gates, Gaudin, Schuhmann; `derived`). */
export const gaudinSchuhmann: FeedLaw = {
  name: 'gaudin-schuhmann',
  summary: 'power law up to a top size',
  label: 'derived',
  source: 'Schuhmann, AIME Tech. Publ. 1189 (1940), recalled',
  parameters: [
    {
      name: 'top',
      typical: 1e-3,
      symbol: 'x_max',
      unit: 'm',
      shownIn: 'um',
      meaning: 'top size of the feed',
      exclusiveMinimum: 0,
      maximum: 1,
    },
    {
      name: 'exponent',
      typical: 0.8,
      symbol: 'm',
      unit: '1',
      shownIn: '1',
      meaning: 'exponent of the power law',
      minimum: 0.1,
      maximum: 10,
    },
  ],
  undersize: ({ top, exponent }, size) => Math.min(1, (size / (top as number)) ** (exponent as number)),
  top: ({ top }) => top as number,
};
