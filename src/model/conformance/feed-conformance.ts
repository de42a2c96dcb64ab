import type { FeedLaw } from '../psd/feed/feed-law.ts';
import { componentFeed } from '../psd/feed/index.ts';
import { buildGrid } from '../psd/grid.ts';
import { exampleOf, extremesOf } from './example.ts';
import { headerFaults } from './law-header.ts';
import { brokenRules, firstOf, geometric, type Rule, told } from './rule.ts';

/** Share above the top of a feed, with its rounding. */
const ABOVE_TOP = 1.01e-6;
const ROUNDING = 1e-15;
/** Rounding of the sum of all classes. */
const SUM = 1e-14;

/** Where a law of feed does not hold to what every one must, a sentence each; empty where it conforms. */
export function feedFaults(law: FeedLaw): string[] {
  const header = headerFaults(law);
  return header.length > 0 ? header : brokenRules(rulesOf(law));
}

function rulesOf(law: FeedLaw): Rule[] {
  const choice = exampleOf(law);
  const q = (size: number, of = choice): number => law.undersize(of, size);
  const at = (size: number): string => `at ${told(1e6 * size)} µm`;
  return [
    {
      must: 'give a share from 0 to 1, at the ends of its parameters too',
      broken: () =>
        firstOf(extremesOf(law), (of) =>
          firstOf(geometric(1e-9, 10, 2), (size) =>
            q(size, of) >= -ROUNDING && q(size, of) <= 1 + ROUNDING
              ? undefined
              : `${told(q(size, of))} ${at(size)}`,
          ),
        ),
    },
    {
      must: 'never fall with size',
      broken: () =>
        firstOf(geometric(1e-9, 10, 1.05), (size) =>
          q(1.05 * size) >= q(size) - ROUNDING
            ? undefined
            : `it falls by ${told(q(size) - q(1.05 * size))} ${at(1.05 * size)}`,
        ),
    },
    {
      must: 'begin from nothing',
      broken: () => (q(1e-12) < 1e-4 ? undefined : `${told(q(1e-12))} ${at(1e-12)}`),
    },
    {
      must: 'leave less than 1e-6 above its top',
      broken: () => {
        const top = law.top(choice);
        if (!(top > 0 && top < 10)) return `its top is ${told(top)} m`;
        const above = 1 - q(top * (1 + 1e-12));
        return above < ABOVE_TOP ? undefined : `${told(above)} above ${told(1e6 * top)} µm`;
      },
    },
    {
      must: 'fill the classes with exactly all of the mass',
      broken: () => {
        const grid = buildGrid({ smallest: 1e-7, top: law.top(choice), classesPerOctave: 8 });
        const feed = componentFeed(grid, choice, law);
        const least = feed.reduce((low, share) => Math.min(low, share), 0);
        const sum = feed.reduce((all, share) => all + share, 0);
        if (!(least >= 0)) return `a class holds ${told(least)}`;
        return Math.abs(sum - 1) < SUM ? undefined : `they hold ${told(sum)}`;
      },
    },
  ];
}
