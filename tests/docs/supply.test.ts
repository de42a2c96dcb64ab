import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

interface Locked {
  readonly license?: string;
  readonly integrity?: string;
  readonly dev?: boolean;
  readonly os?: readonly string[];
}

const json = (path: string) => JSON.parse(readFileSync(path, 'utf8'));
const PACKAGE = json('package.json') as Record<
  'dependencies' | 'optionalDependencies' | 'devDependencies',
  Record<string, string>
>;
const LOCK = Object.entries(json('package-lock.json').packages as Record<string, Locked>).filter(
  ([path]) => path !== '',
);
const nameOf = (path: string): string => path.replace(/^.*node_modules\//, '');
const FREE = ['MIT', 'ISC', 'Apache-2.0', 'BSD-2-Clause', 'BSD-3-Clause', 'MPL-2.0'];
/** Few: another one is a decision, and this number the place where it is noticed. */
const MOST = 10;

/** Rows of the table under a line of DEVELOPERS.md that begins so. */
function tableAfter(start: string): string[][] {
  const text = readFileSync('DEVELOPERS.md', 'utf8');
  const at = text.indexOf(`\n${start}`);
  expect(at, start).toBeGreaterThan(0);
  const table = /\n\|[^\n]*\n\|[-|]+\n((?:\|[^\n]*\n)+)/.exec(text.slice(at))![1]!;
  return table
    .trim()
    .split('\n')
    .map((row) =>
      row
        .split('|')
        .slice(1, -1)
        .map((cell) => cell.trim()),
    );
}

describe('direct dependencies', () => {
  test('are few, and each has a line on why', () => {
    const rows = tableAfter('## Dependencies, and why');
    const names = Object.keys({ ...PACKAGE.dependencies, ...PACKAGE.optionalDependencies });
    expect(rows.map(([name]) => name!).sort()).toEqual(names.sort());
    for (const [name, why] of rows) expect(why!.length, name).toBeGreaterThan(10);
    expect(rows.length).toBeLessThanOrEqual(MOST);
  });
  test('so have those of development', () => {
    const rows = tableAfter('For development only:');
    const names = rows.flatMap(([name]) => name!.split(', '));
    expect(names.sort()).toEqual(Object.keys(PACKAGE.devDependencies).sort());
    for (const [, why] of rows) expect(why!.length).toBeGreaterThan(10);
  });
});

describe('what a user installs', () => {
  const shipped = LOCK.filter(([, { dev }]) => !dev);
  test('has a free licence, listed in DEVELOPERS.md', () => {
    const listed = tableAfter('Licences of everything').flatMap(([licence, names]) =>
      names!.split(', ').map((name) => `${name}: ${licence}`),
    );
    const locked = shipped
      .filter(([, { os }]) => os === undefined)
      .map(([path, { license }]) => `${nameOf(path)}: ${license}`);
    expect(listed.sort()).toEqual([...new Set(locked)].sort());
    for (const [path, { license }] of shipped) expect(FREE, path).toContain(license);
  });
  test('a build for a platform has the licence of its package', () => {
    const whole = new Map(shipped.map(([path, { license }]) => [nameOf(path), license]));
    for (const [path, { os, license }] of shipped) {
      if (os === undefined) continue;
      const parent = [...whole.keys()].find((name) => nameOf(path).startsWith(`${name}-`));
      expect(parent, path).toBeDefined();
      expect(license).toBe(whole.get(parent!));
    }
  });
  test('says the same in its own package.json', () => {
    let seen = 0;
    for (const [path, { license }] of shipped) {
      if (!existsSync(`${path}/package.json`)) continue; // built for another platform
      seen++;
      expect(json(`${path}/package.json`).license, path).toBe(license);
    }
    expect(seen).toBeGreaterThan(30);
  });
  test('is pinned by its content', () => {
    for (const [path, { integrity }] of LOCK) expect(integrity, path).toMatch(/^sha512-/);
  });
});
