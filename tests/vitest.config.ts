import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';
import { SlowestFirst } from './slowest-first.ts';

/** Tests of the sources as they stand. Files share a process: nothing here is kept from one import to the next. */
export default defineConfig({
  test: {
    root: resolve(import.meta.dirname, '..'),
    include: ['tests/**/*.test.ts'],
    testTimeout: 180_000,
    hookTimeout: 180_000,
    pool: 'forks',
    isolate: false,
    sequence: { sequencer: SlowestFirst },
    maxWorkers: 2,
  },
});
