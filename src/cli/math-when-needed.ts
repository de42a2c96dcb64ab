import { createRequire } from 'node:module';
import { packagePath } from '../scenario/package-folder.ts';

/**
 * The library of units, in place of itself where the program is bundled: loaded when the first text needs it, which those of
 * the usual forms do not.
 */
export default {
  create: () => createRequire(import.meta.url)(packagePath('dist/src/cli/math.cjs')).default.create(),
};
