import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** The program's name in its package.json. */
const NAME = 'grindloop';

interface Package {
  /** Path of the folder, with a slash at its end. */
  readonly folder: string;
  readonly version: string;
}

let found: Package | undefined;

/** The program's own package: the nearest folder above this file whose package.json names it. */
export function ownPackage(): Package {
  if (found) return found;
  for (let folder = new URL('.', import.meta.url); ; folder = new URL('..', folder)) {
    const content = contentOf(new URL('package.json', folder));
    if (content?.name === NAME) {
      found = { folder: fileURLToPath(folder), version: String(content.version) };
      return found;
    }
    if (new URL('..', folder).href === folder.href) {
      throw new Error('the package.json of the program is missing');
    }
  }
}

function contentOf(file: URL): Readonly<Record<string, unknown>> | undefined {
  return existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : undefined;
}

/** Path of something in the package, e.g. `packagePath('dist/src/viz/bundles/report.js')`. */
export function packagePath(path: string): string {
  return ownPackage().folder + path;
}
