import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test, vi } from 'vitest';
import { openStore } from '../../../src/sweep/store/reader.ts';
import { temporaryFolder } from './folder.ts';

const program = fileURLToPath(new URL('../../../dist/src/cli/main.js', import.meta.url));
const demo = fileURLToPath(new URL('../../../scenarios/erythritol.yaml', import.meta.url));
const folder = temporaryFolder();
const place = (name: string): string => join(folder.path, name);
afterAll(folder.remove);
// Every test here starts the program several times, which on a busy machine takes seconds each.
vi.setConfig({ testTimeout: 180_000 });

function grindloop(words: readonly string[], environment: Record<string, string> = {}) {
  const env = { ...process.env, ...environment };
  return spawnSync(process.execPath, [program, ...words], { encoding: 'utf8', cwd: folder.path, env });
}

/** The demonstration with few steps. */
const SMALL = [
  ...['--set', 'sweep.factors.rotorSpeed.steps=3', '--set', 'sweep.factors.wheelSpeed.steps=4'],
  ...['--set', 'sweep.factors.feedRate.steps=2'],
];
const POINTS = 3 * 4 * 3 * 2;

test('sweeps into the default folder, exports with units in the heads, and finds nothing left to do', () => {
  const first = grindloop(['sweep', demo, ...SMALL, '--export', 'csv', '--threads', '2']);
  expect(first.stderr).toBe('');
  expect(first.status).toBe(0);
  expect(first.stdout).toMatch(
    /^out\/erythritol\/sweep\.duckdb: 72 points, \d+ columns\n100 %, 72 of 72 points/,
  );
  expect(first.stdout).toMatch(/\d+ points meet the spec\nout\/erythritol\/sweep\.csv\n$/);
  const [heads, ...rows] = readFileSync(place('out/erythritol/sweep.csv'), 'utf8').trim().split('\n');
  expect(heads).toMatch(/^index,rotorSpeed_rpm,wheelSpeed_rpm,wheel,feedRate_kg_per_h,status,reason,/);
  expect(heads).toMatch(
    /,margin_passing_75_um_pct,margin_x50_um,margin_outletTemperature_C,margin_motorLoad_pct,meetsSpec$/,
  );
  expect(rows.length).toBe(POINTS);
  const again = grindloop(['sweep', demo, ...SMALL, '--threads', '2']);
  expect(again.status).toBe(0);
  expect(again.stdout).not.toMatch(/100 %/);
});

test('answers questions as a table, and refuses another sweep in the same place', () => {
  const { stdout } = grindloop([
    'sql',
    'out/erythritol',
    'select wheel, count(*) as n from points group by 1 order by 1',
  ]);
  expect(stdout).toBe(
    'wheel            n\n--------------  --\nmedium-radial   24\nmedium-leaning  24\nlong-leaning    24\n',
  );
  const units = grindloop(['sql', 'out/erythritol', "select unit from columns where name = 'x95_um'"]);
  expect(units.stdout).toBe('unit\n----\num\n');
  const other = grindloop(['sweep', demo, ...SMALL, '--set', 'air.flow=1400 m3/h']);
  expect(other.status).toBe(1);
  expect(other.stderr).toMatch(/already holds a different sweep; not changed/);
  expect(other.stderr).toMatch(/scenario\.air\.flow/);
  const wrong = grindloop(['sql', 'out/erythritol', 'drop table points']);
  expect(wrong.status).toBe(1);
});

test('tells counts, size and time beforehand and writes nothing', () => {
  const { stdout, status } = grindloop(['sweep', demo, '--dry-run', '-o', 'never']);
  expect(status).toBe(0);
  expect(stdout).toMatch(/design grid\n {2}rotorSpeed: 4000 to 7000 rpm, 13 steps/);
  expect(stdout).toMatch(
    /\npoints 3 315\ncolumns \d+\nsize about [\d.]+ MB\ntime about .+ with \d+ threads?\n$/,
  );
  const own = [
    '--set',
    'sweep.factors={wheel: [medium-radial, long-leaning], machine.wheels.long-leaning.geometry.height: {from: 90 mm, to: 120 mm, steps: 4}}',
  ];
  const collapsed = grindloop(['sweep', demo, '--dry-run', ...own]);
  expect(collapsed.stderr).toBe('');
  expect(collapsed.stdout).toMatch(
    /points 5\n {2}3 of 8 combinations left out: a factor changes nothing there/,
  );
  expect(grindloop(['sql', 'never', 'select 1']).stderr).toMatch(/never: contains no sweep/);
});

test('four jobs of an array fill one folder, and merge joins it', () => {
  for (const index of ['0', '1', '2', '3']) {
    const job = ['sweep', demo, ...SMALL, '-o', 'array', '--threads', '1', '--shard', 'auto/4'];
    expect(grindloop(job, { JOB_COMPLETION_INDEX: index }).status).toBe(0);
    if (index === '2') {
      const early = grindloop(['merge', 'array']);
      expect(early.status).toBe(1);
      expect(early.stderr).toMatch(
        /points 54 to 71 are in none of the shards \(after shard-3-of-4\.duckdb\)/,
      );
    }
  }
  const merged = grindloop(['merge', 'array']);
  expect(merged.stdout).toBe('array/sweep.duckdb: 72 points\n');
  const rows = (out: string): string => grindloop(['sql', out, 'select * from points order by index']).stdout;
  expect(rows('array')).toBe(rows('out/erythritol'));
});

describe('a list of points', () => {
  test('takes its factors and units from the heads', async () => {
    writeFileSync(
      place('list.csv'),
      'wheel;feedRate (kg/h);wheel.geometry.height [mm]\nlong-leaning;200;100\nmedium-radial;250,5;50\n'.replace(
        ',',
        '.',
      ),
    );
    writeFileSync(
      place('list.yaml'),
      readFileSync(demo, 'utf8').replace(
        /sweep:[\s\S]*?\npowder/,
        'sweep: { design: list, file: list.csv }\npowder',
      ),
    );
    const { stderr, status } = grindloop(['sweep', 'list.yaml', '-o', 'list']);
    expect(stderr).toBe('');
    expect(status).toBe(0);
    const store = await openStore(place('list'));
    const { values } = await store.rows({
      columns: ['wheel', 'feedRate_kg_per_h', 'wheel_geometry_height_mm'],
    });
    expect(store.column('wheel').names).toEqual(['long-leaning', 'medium-radial']);
    expect([...values.wheel!]).toEqual([0, 1]);
    expect([...values.feedRate_kg_per_h!]).toEqual([200, 250.5]);
    expect([...values.wheel_geometry_height_mm!]).toEqual([100, 50]);
    store.close();
  });

  test.each([
    ['an empty cell', 'feedRate (kg/h),wheel\n200,\n', /wheel is empty/],
    ['a wrong unit', 'feedRate (mm)\n200\n', /feedRate.*mm/],
    ['an unknown factor', 'feedRat (kg/h)\n200\n', /feedRat.*did you mean feedRate/],
    ['no rows', 'feedRate (kg/h)\n', /at least one point/],
    [
      'ragged rows',
      'feedRate (kg/h),wheel\n200\n',
      /list\.csv \(line 2\): has 1 cells where the heads name 2 columns/,
    ],
  ])('with %s is refused', (_, text, words) => {
    writeFileSync(place('list.csv'), text);
    const { stderr, status } = grindloop(['sweep', 'list.yaml', '-o', 'bad']);
    expect(stderr).toMatch(words);
    expect(status).toBe(1);
  });
});

test.each([
  ['--shard', '5/4', /--shard: 5\/4 is not one of the shards/],
  ['--threads', '0', /--threads: must be a whole number from 1/],
  ['--points', '9', /a grid has its points from the steps/],
  ['--quantities', 'x50,nonsense', /no quantity nonsense/],
  ['--quantities', 'passing', /passing needs a size/],
])('%s %s is refused in clear words', (option, value, words) => {
  const { stderr, status } = grindloop(['sweep', demo, '-o', 'refused', option, value]);
  expect(stderr).toMatch(words);
  expect(status).toBe(1);
});

test('a scenario without a sweep says what to add', () => {
  writeFileSync(place('bare.yaml'), readFileSync(demo, 'utf8').replace(/sweep:[\s\S]*?\npowder/, '\npowder'));
  const { stderr, status } = grindloop(['sweep', 'bare.yaml']);
  expect(stderr).toMatch(/^sweep: is missing: a sweep needs/);
  expect(status).toBe(1);
});

test('Ctrl-C finishes what is on the way, says how to go on, and the same command does', async () => {
  const words = [
    'sweep',
    demo,
    '-o',
    'stopped',
    '--set',
    'sweep.design=sobol',
    '--points',
    '60000',
    '--threads',
    '2',
  ];
  const child = spawn(process.execPath, [program, ...words], { cwd: folder.path });
  let said = '';
  child.stderr.on('data', (text: Buffer) => {
    said += text;
  });
  // once the store stands the sweep is on its way, however busy the machine is
  const interrupt = setInterval(() => {
    if (!existsSync(place('stopped/sweep.duckdb'))) return;
    clearInterval(interrupt); // a second signal would end it at once
    child.kill('SIGINT');
  }, 400);
  const code = await new Promise((resolve) => child.on('close', resolve));
  clearInterval(interrupt);
  expect(said).toMatch(/^stopped: \d+ %, [\d ]+ of 60 000 points/m);
  expect(said).toMatch(/points are missing; run the same command again to continue/);
  expect(code).toBe(130);
  const store = await openStore(place('stopped'));
  const left = store.missing.reduce((sum, { count }) => sum + count, 0);
  store.close();
  expect(left).toBeGreaterThan(0);
  const again = grindloop(words);
  expect(again.status).toBe(0);
  expect(again.stdout).toMatch(/^stopped\/sweep\.duckdb: 60 000 points/);
});
