import { execFileSync, spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const folder = mkdtempSync(join(tmpdir(), 'grindloop packed '));
const installed = join(folder, 'node_modules', 'grindloop');
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Manifest {
  readonly dependencies: Readonly<Record<string, string>>;
  readonly optionalDependencies: Readonly<Record<string, string>>;
  readonly scripts: Readonly<Record<string, string>>;
}
const MANIFEST = JSON.parse(readFileSync('package.json', 'utf8')) as Manifest;

/** Packages that the named ones need, with themselves, as they are installed here. */
function closureOf(names: readonly string[], found = new Set<string>()): Set<string> {
  for (const name of names) {
    if (found.has(name) || !existsSync(join('node_modules', name))) continue;
    found.add(name);
    const { dependencies = {}, optionalDependencies = {} } = JSON.parse(
      readFileSync(join('node_modules', name, 'package.json'), 'utf8'),
    ) as Partial<Manifest>;
    closureOf([...Object.keys(dependencies), ...Object.keys(optionalDependencies)], found);
  }
  return found;
}

function link(names: Iterable<string>, into: string): void {
  for (const name of names) {
    const place = join(into, 'node_modules', name);
    mkdirSync(dirname(place), { recursive: true });
    symlinkSync(resolve('node_modules', name), place);
  }
}

/** What `npm install --omit=optional` of the tarball gives, without a registry: the packages are those installed here. */
function install(into: string, names: readonly string[]): void {
  const [{ filename }] = JSON.parse(
    execFileSync('npm', ['pack', '--json', '--ignore-scripts', '--pack-destination', into], {
      encoding: 'utf8',
    }),
  ) as [{ filename: string }];
  const place = join(into, 'node_modules', 'grindloop');
  mkdirSync(place, { recursive: true });
  execFileSync('tar', ['xzf', join(into, filename), '-C', place, '--strip-components=1']);
  link(closureOf(names), into);
}

beforeAll(() => {
  install(folder, Object.keys(MANIFEST.dependencies));
  writeFileSync(join(folder, 'package.json'), '{ "type": "module", "private": true }');
});

const run = (file: string, cwd = folder) => spawnSync(process.execPath, [file], { cwd, encoding: 'utf8' });

const PROGRAM = `
import { type Fault, InputError, loadScenario, outcomeOf, resultOf, type Scenario, solvePoint, toCase, withValue } from 'grindloop';
import { type Case, SELECTION_LAWS, solve } from 'grindloop/model';

const scenario: Scenario = await loadScenario(process.argv[2] ?? 'node_modules/grindloop/scenarios/erythritol.yaml');
const faster: Scenario = withValue(scenario, 'wheelSpeed', '2400 rpm');
const one: Case = toCase(faster);
const x95: number = resultOf(solvePoint(one), 'x95');
const passes: number | undefined = outcomeOf(faster, solvePoint(toCase(faster))).loop?.passes;
let faults: readonly Fault[] = [];
try {
  withValue(scenario, 'wheelSped', '1 rpm');
} catch (error) {
  if (error instanceof InputError) faults = error.faults;
}
console.log(JSON.stringify({ x95, passes, faults: faults.length, status: solve(one).status, laws: Object.keys(SELECTION_LAWS).length }));
`;

describe('the package, installed without its optional parts into a folder with a blank in its path', () => {
  test('compiles under strict NodeNext, with no type of its own unknown, and runs', () => {
    link(['@types/node', 'undici-types'], folder);
    const options = {
      strict: true,
      module: 'NodeNext',
      target: 'ES2022',
      types: ['node'],
      skipLibCheck: true,
    };
    writeFileSync(
      join(folder, 'tsconfig.json'),
      JSON.stringify({ compilerOptions: options, files: ['use.ts'] }),
    );
    writeFileSync(join(folder, 'use.ts'), PROGRAM);
    const compiled = spawnSync(process.execPath, [resolve('node_modules/typescript/bin/tsc')], {
      cwd: folder,
      encoding: 'utf8',
    });
    expect(compiled.stdout + compiled.stderr).toBe('');
    const { stdout, stderr } = run('use.js');
    expect(stderr).toBe('');
    const said = JSON.parse(stdout);
    expect(said.x95 * 1e6).toBeGreaterThan(40);
    expect(said.x95 * 1e6).toBeLessThan(75);
    expect(said).toMatchObject({ faults: 1, status: 'steady' });
    expect(said.passes).toBeGreaterThan(1);
  });
  test('a wrong use is a type error: the names have types, not any', () => {
    const wrong = PROGRAM.replace("'2400 rpm'", '{ rpm: 2400 }');
    writeFileSync(join(folder, 'use.ts'), wrong);
    const { stdout } = spawnSync(process.execPath, [resolve('node_modules/typescript/bin/tsc')], {
      cwd: folder,
      encoding: 'utf8',
    });
    expect(stdout).toMatch(/TS2345/);
  });
  test('says by its name which optional part is missing', () => {
    const program = join(installed, 'dist/src/cli/main.js');
    const grindloop = (...words: string[]) =>
      spawnSync(process.execPath, [program, ...words], { cwd: folder, encoding: 'utf8' });
    expect(existsSync(join(folder, 'node_modules/@duckdb'))).toBe(false);
    const demo = join(installed, 'scenarios/erythritol.yaml');
    expect(grindloop('run', demo).status).toBe(0);
    for (const words of [
      ['sweep', demo, '-o', 'swept'],
      ['report', 'swept'],
    ]) {
      mkdirSync(join(folder, 'swept'), { recursive: true });
      const { status, stderr } = grindloop(...words);
      expect(stderr).toMatch(/^@duckdb\/node-(api|bindings): is not installed; .*npm install @duckdb\/node-/);
      expect(status).toBe(1);
    }
    const png = grindloop('run', demo, '--figure', 'balance', '--png', 'a.png');
    expect([png.status, png.stderr]).toEqual([1, expect.stringMatching(/@resvg\/resvg-js/)]);
  });
  test('grindloop/model needs no other package at all', () => {
    const alone = mkdtempSync(join(tmpdir(), 'grindloop alone '));
    try {
      mkdirSync(join(alone, 'node_modules'));
      symlinkSync(installed, join(alone, 'node_modules', 'grindloop'));
      writeFileSync(
        join(alone, 'model.mjs'),
        "import * as model from 'grindloop/model'; console.log(typeof model.solve);",
      );
      const bare = spawnSync(
        process.execPath,
        ['--preserve-symlinks', '--preserve-symlinks-main', 'model.mjs'],
        { cwd: alone, encoding: 'utf8' },
      );
      expect([bare.stderr, bare.stdout]).toEqual(['', 'function\n']);
    } finally {
      rmSync(alone, { recursive: true, force: true });
    }
  });
});

describe('the tarball', () => {
  const files = () =>
    readdirSync(installed, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map(({ parentPath, name }) => join(parentPath, name).slice(installed.length + 1));
  test('has types, stories and pictures, and no test', () => {
    const names = files();
    for (const name of [
      'dist/src/index.d.ts',
      'dist/src/model/index.d.ts',
      'notebooks/scripting.md',
      'README.md',
      'LICENSE',
      'DEVELOPERS.md',
    ])
      expect(names).toContain(name);
    expect(names.filter((name) => /invalid|\.test\.|^tests|fixtures/.test(name))).toEqual([]);
  });
  test('is small: the program and the library as bundles, no file twice', () => {
    const [tarball] = readdirSync(folder).filter((name) => name.endsWith('.tgz'));
    // 2.6 MB and 740 files, of which pages are 0.8 MB and pictures 0.7 MB
    expect(statSync(join(folder, tarball!)).size).toBeLessThan(2.9e6);
    expect(files().length).toBeLessThan(900);
  });
  test('no link of its README is dead', () => {
    const readme = readFileSync(join(installed, 'README.md'), 'utf8');
    const links = [...readme.matchAll(/\]\((?!https?:|#)([^)#]+)/g)].map((found) => found[1]!);
    expect(links.length).toBeGreaterThan(5);
    for (const target of links) expect(existsSync(join(installed, target)), target).toBe(true);
  });
  test('runs nothing on the machine of who installs it', () => {
    for (const name of ['prepare', 'preinstall', 'install', 'postinstall'])
      expect(MANIFEST.scripts[name]).toBeUndefined();
  });
});
