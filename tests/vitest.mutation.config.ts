import { defineConfig } from 'vitest/config';
import everything from './vitest.config.ts';

/** What guards the verdicts, sentences and thresholds: few seconds for each deliberate error, no whole commands. */
const GUARDS = [
  'tests/answers/**/*.test.ts',
  'tests/unit/plant/**/*.test.ts',
  'tests/unit/scenario/**/*.test.ts',
];

/**
 * Tests a mutation run takes: all guards, or those that NEAR lists with commas between. With WARM=1 modules stay loaded from
 * one error to the next, which is ten times quicker; errors in constants then have no effect, so Stryker has to leave them out
 * (`--ignoreStatic`).
 */
export default defineConfig({
  test: {
    ...everything.test,
    include: process.env.NEAR?.split(',') ?? GUARDS,
    exclude: process.env.NEAR ? [] : ['tests/answers/{agreement,best-point,setting-corrections}.test.ts'],
    isolate: !process.env.WARM,
  },
});
