import { normalCumulative } from '../../numerics/normal.ts';
import type { FeedLaw } from './feed-law.ts';

/** Standard deviations above the median beyond which less than 1e-6 lies. */
const TOP = 4.7535;

/** Q = Φ(ln(x/x50)/s), s the standard deviation of ln x (`derived`; ISO 9276-5). */
export const logNormal: FeedLaw = {
  name: 'log-normal',
  summary: 'normal in ln x: median and spread',
  label: 'derived',
  source: 'ISO 9276-5',
  parameters: [
    {
      name: 'x50',
      typical: 500e-6,
      symbol: 'x50',
      unit: 'm',
      shownIn: 'um',
      meaning: 'median size of the feed',
      usual: { low: 5e-6, high: 0.02 },
      exclusiveMinimum: 0,
      maximum: 0.5,
    },
    {
      name: 'spread',
      typical: 0.35,
      symbol: 's',
      unit: '1',
      shownIn: '1',
      meaning: 'standard deviation of ln x',
      usual: { low: 0.1, high: 2 },
      minimum: 0.01,
      maximum: 3,
    },
  ],
  undersize: ({ x50, spread }, size) =>
    normalCumulative(Math.log(size / (x50 as number)) / (spread as number)),
  top: ({ x50, spread }) => (x50 as number) * Math.exp(TOP * (spread as number)),
};
