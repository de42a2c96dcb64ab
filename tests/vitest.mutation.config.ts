import { defineConfig } from 'vitest/config';
import everything from './vitest.config.ts';

/** What guards the verdicts, sentences and thresholds: few seconds for each deliberate error, no whole commands. */
export default defineConfig({
  test: {
    ...everything.test,
    isolate: true,
    include: [
      'tests/answers/**/*.test.ts',
      'tests/unit/plant/**/*.test.ts',
      'tests/unit/scenario/**/*.test.ts',
    ],
    exclude: ['tests/answers/{agreement,best-point,setting-corrections}.test.ts'],
  },
});
