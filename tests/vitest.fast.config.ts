import { defineConfig } from 'vitest/config';
import everything from './vitest.config.ts';

/** What guards the numbers and the rules of the house, in under two minutes on two quiet cores. */
const FAST = ['exact', 'published', 'laws', 'convergence', 'architecture', 'unit', 'answers'];
const ALSO = ['tests/docs/{book,readme,supply,examples}.test.ts'];
/** Whole commands, fits and searches: minutes, not seconds. */
const SLOW = [
  'tests/published/sweep/**',
  'tests/unit/cli/**',
  'tests/unit/search/**',
  'tests/unit/trials/{fit,fit-claims,coverage}.test.ts',
  'tests/exact/{chance-search,posterior-sample}.test.ts',
];

export default defineConfig({
  test: {
    ...everything.test,
    include: [...FAST.map((folder) => `tests/${folder}/**/*.test.ts`), ...ALSO],
    exclude: SLOW,
  },
});
