import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';

/** A copy of the project to which the examples of DEVELOPERS.md are added as it says. */
let copy = '';
const NODE = process.execPath;

/** Registry lines beside each file: in which file, after which text, what. */
const LINES: readonly (readonly [file: string, after: string, line: string])[] = [
  [
    'src/model/breakage/fragments/index.ts',
    "import type { FragmentLaw } from './fragment-law.ts';",
    "import { parabola } from './parabola.ts';",
  ],
  ['src/model/breakage/fragments/index.ts', '[power.name]: power,', '[parabola.name]: parabola,'],
  [
    'src/model/wheel/efficiency/index.ts',
    "import type { EfficiencyLaw } from './efficiency-law.ts';",
    "import { frechet } from './frechet.ts';",
  ],
  ['src/model/wheel/efficiency/index.ts', '[logistic.name]: logistic,', '[frechet.name]: frechet,'],
  [
    'src/scenario/design/designs.ts',
    "import type { Design } from './design.ts';",
    "import { corners } from './corners.ts';",
  ],
  ['src/scenario/design/designs.ts', 'sensitivity', ', corners'],
  [
    'src/viz/figures/index.ts',
    "import { ridgeFigure } from './ridge.ts';",
    "import { returnedFigure } from './returned.ts';",
  ],
  ['src/viz/figures/index.ts', 'lines: linesFigure,', 'returned: returnedFigure,'],
  [
    'src/viz/report/point-figures.ts',
    "stillOf('balance', balance, { width: HALF_WIDTH }),",
    "stillOf('returned', balance, { width: HALF_WIDTH }),",
  ],
];

function run(...words: readonly string[]): { code: number | null; out: string } {
  const { status, stdout, stderr } = spawnSync(NODE, [...words], { cwd: copy, encoding: 'utf8' });
  return { code: status, out: `${stdout}${stderr}` };
}
const grindloop = (...words: readonly string[]) => run('dist/src/cli/main.js', ...words);

beforeAll(() => {
  copy = mkdtempSync(join(tmpdir(), 'recipe-'));
  for (const part of ['src', 'scenarios', 'tests', 'package.json', 'tsconfig.json'])
    cpSync(part, join(copy, part), { recursive: true });
  symlinkSync(resolve('node_modules'), join(copy, 'node_modules'));
  const page = readFileSync('DEVELOPERS.md', 'utf8');
  const linked = [...page.matchAll(/\((tests\/fixtures\/recipes\/[^)]+)\)/g)].map(([, file]) =>
    readFileSync(file!, 'utf8'),
  );
  expect(linked).toHaveLength(4);
  for (const example of linked) {
    const [, file, text] = /^\/\/ (src\/\S+)\n([\s\S]*)$/.exec(example)!;
    writeFileSync(join(copy, file!), text!);
  }
  for (const [file, after, line] of LINES) {
    const text = readFileSync(join(copy, file), 'utf8');
    // the last mention is the entry of the registry, an import stands above
    const at = text.lastIndexOf(after);
    expect(at, `${file} has no ${after}`).toBeGreaterThanOrEqual(0);
    const end = at + after.length;
    writeFileSync(
      join(copy, file),
      `${text.slice(0, end)}${line.startsWith(',') ? '' : '\n'}${line}${text.slice(end)}`,
    );
  }
  const built = run(
    'node_modules/typescript/bin/tsc',
    '-p',
    'src/declarations.json',
    '--emitDeclarationOnly',
    'false',
  );
  expect(built.out).toBe('');
  const { scripts } = JSON.parse(readFileSync('package.json', 'utf8'));
  const env = { ...process.env, PATH: `${join(copy, 'node_modules/.bin')}:${process.env.PATH}` };
  for (const script of [scripts.pages, scripts.program]) {
    const bundled = spawnSync(script, { cwd: copy, shell: true, encoding: 'utf8', env });
    expect(bundled.stderr).toBe('');
  }
}, 240_000);
afterAll(() => rmSync(copy, { recursive: true, force: true }));

test('both laws run through the command line, and are listed where a wrong one is named', () => {
  const base = grindloop('run', 'scenarios/erythritol.yaml', '--json');
  const sets = [
    ...['--set', 'material.fragments={ law: parabola }'],
    ...['--set', 'machine.wheels.medium-radial.efficiency=frechet'],
  ];
  const ran = grindloop('run', 'scenarios/erythritol.yaml', '--json', ...sets);
  expect(ran.code, ran.out).toBe(0);
  const [before, after] = [base, ran].map(({ out }) => JSON.parse(out));
  expect(after.status).toBe('steady');
  expect(after.loop.massClosure).toBeLessThan(1e-11);
  expect(Math.abs(after.product.x50_um / before.product.x50_um - 1)).toBeGreaterThan(0.05);
  const checked = grindloop('check', 'scenarios/erythritol.yaml', ...sets);
  expect(checked.out).toMatch(/fragments parabola/);
  const wrong = grindloop(
    'check',
    'scenarios/erythritol.yaml',
    '--set',
    'material.fragments={ law: parabolla }',
  );
  expect(wrong.out).toMatch(/parabola/);
}, 60_000);

test('the design sweeps, and is listed where a wrong one is named', () => {
  const points =
    'sweep={ design: corners, factors: { rotorSpeed: { from: 4500 rpm, to: 6000 rpm }, feedRate: { from: 100 kg/h, to: 200 kg/h }, wheel: [ medium-radial, long-leaning ] } }';
  const swept = grindloop(
    'sweep',
    'scenarios/erythritol.yaml',
    '--set',
    points,
    '-o',
    'out',
    '--threads',
    '1',
  );
  expect(swept.code, swept.out).toBe(0);
  expect(swept.out).toMatch(/8 points/);
  const { out } = grindloop(
    'sql',
    'out',
    'select count(distinct (rotorSpeed_rpm, feedRate_kg_per_h, wheel)) from points',
  );
  expect(out.trim().split('\n').at(-1)!.trim()).toBe('8');
  const wrong = grindloop('check', 'scenarios/erythritol.yaml', '--set', 'sweep.design=cornes');
  expect(wrong.out).toMatch(/sweep\.design.*: must be one of grid, .*corners.*; did you mean corners\?/);
}, 60_000);

test('the figure stands in the report of a run, and is written as a file', () => {
  const file = join(copy, 'returned.svg');
  const written = grindloop('run', 'scenarios/erythritol.yaml', '--figure', 'returned', '--svg', file);
  expect(written.code, written.out).toBe(0);
  expect(readFileSync(file, 'utf8')).toMatch(/What the wheel sends back/);
  const page = join(copy, 'page.html');
  expect(grindloop('report', 'scenarios/erythritol.yaml', '-o', page).code).toBe(0);
  expect(readFileSync(page, 'utf8')).toMatch(/What the wheel sends back/);
}, 60_000);

test('conformance tests take them up by themselves', () => {
  const suites = ['tests/laws', 'tests/architecture/layers.test.ts', 'tests/unit/sweep/designs.test.ts'];
  const words = ['run', '--config', 'tests/vitest.config.ts', '--reporter', 'verbose', ...suites];
  const { code, out } = run('node_modules/vitest/vitest.mjs', ...words);
  expect(out).toMatch(/fragments law parabola/);
  expect(out).toMatch(/efficiency law frechet/);
  expect(code, out.slice(-3000)).toBe(0);
}, 240_000);
