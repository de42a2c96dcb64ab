import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { machineNamed } from '../../../src/cli/machine-named.ts';
import type { Table } from '../../../src/model/parameters.ts';
import { loadScenario } from '../../../src/scenario/load.ts';
import { grindloopIn } from '../../program.ts';

/** A folder with a case in a folder of its own, and files of the same names next to both. */
let folder = '';
const cal = (value: number): string =>
  `values: { material.selection.friability: { value: "${value} kg/(J m)", label: fitted, source: here } }\n`;
const feed = (coarsest: number): string => `size [um],undersize [%]\n100,10\n400,50\n${coarsest},100\n`;
const points = (rates: readonly number[]): string => `feedRate (kg/h)\n${rates.join('\n')}\n`;
const mill = (diameter: number): string =>
  `from: pilot-300\nname: mill of ${diameter}\nrotor: { geometry: { diameter: ${diameter} mm } }\n`;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'two folders '));
  mkdirSync(join(folder, 'case'));
  const write = (name: string, here: string, there: string): void => {
    writeFileSync(join(folder, name), here);
    writeFileSync(join(folder, 'case', name), there);
  };
  write('cal.yaml', cal(1.5), cal(2.5));
  write('feed.csv', feed(800), feed(900));
  write('points.csv', points([100, 120]), points([100, 110, 120]));
  write('mill.yaml', mill(310), mill(320));
  writeFileSync(
    join(folder, 'case', 'my-case.yaml'),
    `material: organic-crystal
feed: { file: feed.csv, basis: mass }
machine: pilot-300
calibration: cal.yaml
settings: { rotorSpeed: 80 m/s, wheel: medium-leaning, wheelSpeed: 1500 rpm, feedRate: 100 kg/h }
sweep: { design: list, file: points.csv }
`,
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('a path typed on the command line is relative to the current folder, one of the file to the file', async () => {
  const friability = async (...set: string[]): Promise<number> => {
    const { out, err } = await grindloopIn(folder, 'check', 'case/my-case.yaml', '--json', ...set);
    expect(err).toBe('');
    return JSON.parse(out).values['material.selection.friability'].value;
  };
  expect(await friability()).toBe(2.5);
  expect(await friability('--set', 'calibration=cal.yaml')).toBe(1.5);
  expect(await friability('--set', 'calibration=case/cal.yaml')).toBe(2.5);

  const coarsest = await inFolder(() =>
    Promise.all(
      [[], ['feed.file=feed.csv']].map(async (set) => {
        const { points } = (await loadScenario('case/my-case.yaml', { set })).components[0]!.feed;
        return (points as Table).at(-1)![0];
      }),
    ),
  );
  expect(coarsest.map((size) => Math.round(1e6 * size))).toEqual([900, 800]);

  const swept = async (...set: string[]): Promise<string> =>
    (await grindloopIn(folder, 'sweep', 'case/my-case.yaml', '--dry-run', ...set)).out;
  expect(await swept()).toMatch(/^points 3$/m);
  expect(await swept('--set', 'sweep.file=points.csv')).toMatch(/^points 2$/m);
});

test('so is a second machine', async () => {
  await inFolder(async () => {
    expect(machineNamed('mill.yaml', '--to').machine.name).toBe('mill of 310');
    expect(machineNamed('case/mill.yaml', '--compare-with').machine.name).toBe('mill of 320');
  });
});

async function inFolder<T>(work: () => Promise<T>): Promise<T> {
  const back = process.cwd();
  process.chdir(folder);
  try {
    return await work();
  } finally {
    process.chdir(back);
  }
}
