import { dirname, resolve } from 'node:path';
import { defineConfig } from 'vitest/config';
import everything from './vitest.config.ts';

const ROOT = resolve(import.meta.dirname, '..');

/**
 * All tests against the build, whose modules node loads itself: no test file waits for the sources to be transformed, and a
 * solve takes a quarter less time than through the test runner's own imports.
 */
export default defineConfig({
  plugins: [
    {
      name: 'modules-of-the-build',
      enforce: 'pre',
      resolveId(source, importer) {
        if (importer === undefined || !source.startsWith('.') || !source.endsWith('.ts')) return null;
        const path = resolve(dirname(importer), source);
        if (!path.startsWith(`${ROOT}/src/`)) return null;
        return path.replace(`${ROOT}/src/`, `${ROOT}/dist/src/`).replace(/\.ts$/, '.js');
      },
    },
  ],
  test: {
    ...everything.test,
    server: { deps: { external: [/\/dist\/src\//] } },
  },
});
