import { readFileSync } from 'node:fs';

/** Version of the program, from its own package. */
export function programVersion(): string {
  for (let folder = new URL('.', import.meta.url); ; folder = new URL('..', folder)) {
    const found = packageAt(folder);
    if (found !== undefined) return found;
    if (folder.pathname === '/' || new URL('..', folder).href === folder.href) {
      throw new Error('the package.json of the program is missing');
    }
  }
}

function packageAt(folder: URL): string | undefined {
  try {
    const content = JSON.parse(readFileSync(new URL('package.json', folder), 'utf8')) as Record<
      string,
      string
    >;
    return content.name === 'grindloop' ? content.version : undefined;
  } catch {
    return undefined;
  }
}
