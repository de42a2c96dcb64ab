import { createHash } from 'node:crypto';
import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { loadScenario } from '../../../src/scenario/load.ts';
import { exportRows } from '../../../src/sweep/store/export.ts';
import { studyOf } from '../../../src/sweep/study/study-of.ts';
import { runSweep } from '../../../src/sweep/workers/run-sweep.ts';

/** Files without content: a run may write to them, and the next is to find them empty again. */
export const EMPTY = ['empty', 'empty.yaml'];

/** A folder with one of everything a command takes, and of everything it must refuse. */
export interface Workshop {
  /** Where command lines run: deep enough that no `../..` leaves what is removed at the end. */
  readonly folder: string;
  /** Files by their name in the folder: size, inode and time of last change. */
  readonly whole: ReadonlyMap<string, string>;
  readonly remove: () => void;
}

const DEMO = readFileSync('scenarios/erythritol.yaml', 'utf8');
const SMALL = DEMO.replace('steps: 13', 'steps: 2')
  .replace('steps: 17', 'steps: 2')
  .replace('steps: 5', 'steps: 2');
const BIG = 100_000_000;

/** Feed, fines and coarse of a wheel, RRSB sorted by a logistic at 20 µm, 32 % to the fines. */
function sortedStreams(): Record<'feed' | 'fines' | 'coarse', string> {
  const sizes = Array.from({ length: 41 }, (_, i) => 0.5 * 2 ** (i / 4));
  const below = (x: number): number => 1 - Math.exp(-((x / 50) ** 1.2));
  let fines = 0;
  let coarse = 0;
  const rows = sizes.map((size, i) => {
    const share = below(size) - (i > 0 ? below(sizes[i - 1]!) : 0);
    const toFines = 1 / (1 + (size / 20) ** 3);
    fines += share * toFines;
    coarse += share * (1 - toFines);
    return { size, fines, coarse };
  });
  const text = (of: (row: (typeof rows)[number]) => number): string =>
    `laser diffraction\nsize um;undersize vol %\n${rows.map((row) => `${row.size.toPrecision(5)};${(100 * of(row)).toFixed(3)}`).join('\n')}\n`;
  return {
    feed: text((row) => (row.fines + row.coarse) / (fines + coarse)),
    fines: text((row) => row.fines / fines),
    coarse: text((row) => row.coarse / coarse),
  };
}

const YAML_LOG = `title: two runs
motor: { noLoadCurrent: 10 A, ratedCurrent: 28 A }
errors: { product: 3 %, power: 4 % }
reading: { method: laser }
defaults: { wheel: medium-leaning, minutes: 4 min }
trials:
  - { trial: A, rotorSpeed: 5700 rpm, wheelSpeed: 30 Hz, feedRate: 200 kg/h, current: 18 A, idleCurrent: 12 A, sizes: run-1.csv }
  - { trial: B, rotorSpeed: 4600 rpm, wheelSpeed: 1400 rpm, feedRate: 140 kg/h, power: 3.5 kW, sizes: [run-3.csv], remarks: warm }
`;

/** Builds the folder. */
export async function openWorkshop(): Promise<Workshop> {
  const top = mkdtempSync(join(tmpdir(), 'fuzz-'));
  const folder = join(top, 'a', 'b', 'c', 'd');
  mkdirSync(folder, { recursive: true });
  const at = (name: string): string => join(folder, name);
  writeFileSync(at('lot.yaml'), SMALL);
  writeFileSync(at('filler.yaml'), readFileSync('scenarios/mineral-filler.yaml'));
  writeFileSync(
    at('list.yaml'),
    `${SMALL.replace(/sweep:[\s\S]*?powder:/, 'sweep: { design: list, file: points.csv }\npowder:')}`,
  );
  writeFileSync(at('points.csv'), 'wheelSpeed (rpm),feedRate (kg/h)\n1500,200\n1800,150\n');
  writeFileSync(at('with-plant.yaml'), `${SMALL}plant: {}\ntime: { duration: 5 min }\n`);
  for (const name of readdirSync('scenarios/data/trials'))
    copyFileSync(join('scenarios/data/trials', name), at(name));
  for (const [name, text] of Object.entries(sortedStreams())) writeFileSync(at(`${name}.csv`), text);
  writeFileSync(at('sieve.txt'), 'mesh (ASTM E11)\tretained g\n100\t1.2\n200\t30.4\n325\t40\npan\t28\n');
  writeFileSync(at('log.yaml'), YAML_LOG);
  await stores(at);
  strange(at);
  const whole = stateOf(folder);
  return { folder, whole, remove: () => rmSync(top, { recursive: true, force: true }) };
}

async function stores(at: (name: string) => string): Promise<void> {
  const study = studyOf(await loadScenario(at('lot.yaml')), { curves: false });
  const sweep = { study, version: '0.1.0', threads: 0 };
  const { store } = await runSweep({ ...sweep, out: at('swept') });
  await exportRows(store, 'csv');
  for (const part of [1, 2]) await runSweep({ ...sweep, out: at('shards'), shard: { part, of: 2 } });
  copyFileSync(store, at('cut.duckdb'));
  truncateSync(at('cut.duckdb'), 900_000);
}

function strange(at: (name: string) => string): void {
  for (const name of EMPTY) writeFileSync(at(name), '');
  writeFileSync(at('text.duckdb'), 'not a database\n'.repeat(500));
  writeFileSync(at('binary'), createHash('sha512').update('any').digest());
  writeFileSync(at('bomb.yaml'), 'a: &a [x,x]\nb: &b [*a,*a]\nc: &c [*b,*b]\nd: [*c,*c]\n');
  for (const name of ['big.yaml', 'big.csv']) {
    writeFileSync(at(name), 'size um;undersize %\n');
    truncateSync(at(name), BIG);
  }
  mkdirSync(at('folder.yaml'));
  symlinkSync('loop', at('loop'));
}

/** What stands in a folder: size, inode and time of last change of every file below it. */
export function stateOf(folder: string): Map<string, string> {
  const state = new Map<string, string>();
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    const { size, ino, ctimeNs } = statSync(path, { bigint: true });
    state.set(relative(folder, path), `${size} ${ino} ${ctimeNs}`);
  }
  return state;
}

/** Files that are gone or are not as they were; new ones apart. */
export function changesIn(workshop: Workshop): { lost: string[]; made: string[] } {
  const now = stateOf(workshop.folder);
  const lost = [...workshop.whole].filter(([name, state]) => now.get(name) !== state).map(([name]) => name);
  return { lost, made: [...now.keys()].filter((name) => !workshop.whole.has(name)) };
}
