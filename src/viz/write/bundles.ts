import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { packagePath } from '../../scenario/package-folder.ts';

/**
 * Text of a built script or style.
 *
 * @throws Error where the program was not built
 */
export function bundleText(name: string): string {
  const file = packagePath(`dist/src/viz/bundles/${name}`);
  if (existsSync(file)) return readFileSync(file, 'utf8');
  throw new Error(`the page's ${name} is missing from the package; npm run build makes it`);
}

/** The plotting library, whole. */
export function plottingText(): string {
  return readFileSync(createRequire(import.meta.url).resolve('plotly.js-dist-min'), 'utf8');
}
