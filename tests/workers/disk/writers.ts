import { copyFileSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DEMO, grindloop, SMALL, TRIALS } from './program.ts';

/** A command that writes, and the file it writes, of which an older one stands there. */
export interface Writer {
  readonly name: string;
  readonly words: (folder: string) => readonly string[];
  readonly writes: string;
  readonly older: string;
}

const PAGE = '<!doctype html>\nolder\n';

export const WRITERS: readonly Writer[] = [
  {
    name: 'new',
    words: (at) => ['new', join(at, 'a.yaml'), '--force'],
    writes: 'a.yaml',
    older: 'title: a\n',
  },
  {
    name: 'run, figure',
    words: (at) => ['run', DEMO, '--figure', 'balance', '--svg', join(at, 'a.svg')],
    writes: 'a.svg',
    older: '<svg xmlns="http://www.w3.org/2000/svg">older</svg>',
  },
  {
    name: 'report of a run',
    words: (at) => ['report', DEMO, '-o', join(at, 'a.html')],
    writes: 'a.html',
    older: PAGE,
  },
  {
    name: 'report of a sweep',
    words: (at) => ['report', join(at, 'swept')],
    writes: 'swept/report.html',
    older: PAGE,
  },
  {
    name: 'compare',
    words: (at) => ['compare', DEMO, '-o', join(at, 'c.html')],
    writes: 'c.html',
    older: PAGE,
  },
  { name: 'lesson', words: (at) => ['lesson', '-o', join(at, 'l.html')], writes: 'l.html', older: PAGE },
  {
    name: 'fit',
    words: (at) => ['fit', DEMO, '--trials', TRIALS, '-o', join(at, 'cal.yaml'), '--starts', '1'],
    writes: 'cal.yaml',
    older: '# written by grindloop fit; older\n',
  },
  {
    name: 'next',
    words: (at) => ['next', DEMO, '-o', join(at, 'sheet.txt')],
    writes: 'sheet.txt',
    older: 'Erythritol for sugar-free icing\n',
  },
  {
    name: 'export, csv',
    words: (at) => ['sweep', DEMO, ...SMALL, '-o', join(at, 'swept'), '--export', 'csv'],
    writes: 'swept/sweep.csv',
    older: 'index,older\n',
  },
  {
    name: 'export, parquet',
    words: (at) => ['sweep', DEMO, ...SMALL, '-o', join(at, 'swept'), '--export', 'parquet'],
    writes: 'swept/sweep.parquet',
    older: 'PAR1older',
  },
];

/** Makes a sweep once and copies its store to where it is asked for. */
export function prepare(source: string): void {
  const { code, err } = grindloop(['sweep', DEMO, ...SMALL, '-o', join(source, 'swept')]);
  if (code !== 0) throw new Error(err);
  for (const part of [1, 2]) {
    const shard = grindloop(['sweep', DEMO, ...SMALL, '-o', join(source, 'shards'), '--shard', `${part}/2`]);
    if (shard.code !== 0) throw new Error(shard.err);
  }
}

/** A folder with the older files of every writer, and the stores. */
export function furnish(folder: string, source: string): void {
  for (const name of ['swept', 'shards']) mkdirSync(join(folder, name), { recursive: true });
  copyFileSync(join(source, 'swept/sweep.duckdb'), join(folder, 'swept/sweep.duckdb'));
  for (const part of [1, 2]) {
    const name = `shards/shard-${part}-of-2.duckdb`;
    copyFileSync(join(source, name), join(folder, name));
  }
  for (const { writes, older } of WRITERS) writeFileSync(join(folder, writes), older);
}
