import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

/** Built scripts and styles of the pages, beside the compiled program. */
const PLACES = ['../bundles/', '../../../dist/src/viz/bundles/'];

/**
 * Text of a built script or style.
 *
 * @throws Error where the program was not built
 */
export function bundleText(name: string): string {
  for (const place of PLACES) {
    const file = fileURLToPath(new URL(place + name, import.meta.url));
    if (existsSync(file)) return readFileSync(file, 'utf8');
  }
  throw new Error(`the page's ${name} is missing from the package; npm run build makes it`);
}

/** The plotting library, whole. */
export function plottingText(): string {
  return readFileSync(createRequire(import.meta.url).resolve('plotly.js-dist-min'), 'utf8');
}
