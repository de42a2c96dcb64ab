import type { LawChoice } from '../../parameters.ts';
import type { Grid } from '../grid.ts';
import type { FeedLaw } from './law.ts';

const erf = (x: number) => {
  const t = 1 / (1 + 0.5 * Math.abs(x));
  const y =
    1 -
    t *
      Math.exp(
        -x * x -
          1.26551223 +
          t *
            (1.00002368 +
              t *
                (0.37409196 +
                  t *
                    (0.09678418 +
                      t *
                        (-0.18628806 +
                          t *
                            (0.27886807 +
                              t * (-1.13520398 + t * (1.48851587 + t * (-0.82215223 + t * 0.17087277)))))))),
      );
  return x >= 0 ? y : -y;
};
export const FEED_LAWS: Record<string, FeedLaw> = {
  'log-normal': {
    name: 'log-normal',
    summary: '',
    label: 'derived',
    source: '',
    parameters: [
      { name: 'x50', symbol: 'x_50', unit: 'm', shownIn: 'um', meaning: 'median size', exclusiveMinimum: 0 },
      {
        name: 'spread',
        symbol: 'σ',
        unit: '1',
        shownIn: '1',
        meaning: 'spread of ln x',
        exclusiveMinimum: 0,
      },
    ],
    undersize: (c, x) => 0.5 * (1 + erf(Math.log(x / (c.x50 as number)) / (c.spread as number) / Math.SQRT2)),
    top: (c) => (c.x50 as number) * Math.exp(4.75 * (c.spread as number)),
  },
};
export function componentFeed(grid: Grid, c: LawChoice): Float64Array {
  const q = Array.from(grid.edges, (e) => FEED_LAWS[c.law]!.undersize(c, e));
  q[0] = 0;
  q[q.length - 1] = 1;
  return Float64Array.from(grid.sizes, (_, i) => q[i + 1]! - q[i]!);
}
