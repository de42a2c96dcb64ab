import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Files of a quarter of a minute and more, the longest first: begun last, one of them would run alone at the end. */
const SLOWEST: readonly string[] = [
  'unit/search/next',
  'unit/trials/coverage',
  'unit/trials/fit',
  'workers/disk/kills',
  'unit/trials/fit-claims',
  'browser/hostile',
  'workers/disk/full-disk',
  'browser/legible',
  'unit/cli/next',
  'properties/feed-at-choke',
  'notebooks/notebooks',
  'workers/disk/odd-stores',
  'workers/disk/read-only',
  'browser/policy',
  'browser/agreement',
  'browser/desk',
  'unit/search/find',
  'unit/cli/hostile-words',
  'properties/hostile-expressions',
  'fuzz/fuzz',
  'unit/cli/terminal',
  'workers/sweep/same-rows',
  'answers/agreement',
  'answers/grades',
  'browser/figure-files',
  'browser/lesson',
  'browser/report',
  'docs/recipe',
  'unit/cli/fit',
  'unit/cli/bad-day',
  'published/sweep/sensitivity',
  'unit/search/confident',
  'unit/search/wanted-trials',
  'workers/sweep/command-line',
  'browser/honesty',
];

/** Starts the longest files first; the rest follow as the runner has them. */
export class SlowestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification): number => {
      const at = SLOWEST.findIndex((file) => moduleId.endsWith(`/tests/${file}.test.ts`));
      return at < 0 ? SLOWEST.length : at;
    };
    return (await super.sort(files)).sort((one, other) => place(one) - place(other));
  }
}
