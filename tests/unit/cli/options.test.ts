import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { type Loaded, loaded, nameOf } from '../../../src/cli/command.ts';
import { COMMANDS } from '../../../src/cli/commands.ts';
import { contradictedSwitches, misstatedOptions, unknownOptions } from '../../../src/cli/option-faults.ts';
import { grindloopIn } from '../../program.ts';

const folder = mkdtempSync(join(tmpdir(), 'grindloop-options-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const grindloop = (...words: string[]) => grindloopIn(folder, ...words);

const ALL = await Promise.all(COMMANDS.map(loaded));
const named = (name: string): Loaded => ALL.find((command) => nameOf(command) === name)!;

describe.each(ALL)('$usage', (command) => {
  test('refuses an option it does not have, and its positionals written as options', () => {
    const positional = [...command.usage.matchAll(/[<[](\w+)/g)].map((found) => found[1]!);
    for (const name of ['nonsense', ...positional]) {
      for (const words of [[`--${name}`, 'x'], [`--${name}=x`]]) {
        const faults = unknownOptions(command, ['a', ...words]);
        expect(faults).toHaveLength(1);
        expect(faults[0]!.place).toBe('');
        expect(faults[0]!.message).toMatch(new RegExp(`^${nameOf(command)} has no option --${name}; `));
      }
    }
    expect(unknownOptions(command, ['-Z', 'x'])).toHaveLength(1);
  });
  test('names the file to write -o/--output, not --out', () => {
    const [fault] = unknownOptions(command, ['--out', 'x']);
    const writes = unknownOptions(command, ['-o', 'x']).length === 0;
    expect(writes).toBe(unknownOptions(command, ['--output', 'x']).length === 0);
    expect(fault!.message).toContain(writes ? 'did you mean -o/--output?' : 'has no option --out; ');
  });
  test('says that a dash alone is no file, which the parser would drop', () => {
    for (const words of [['-'], ['a', '-'], ['a', '--', '-']])
      expect(unknownOptions(command, words).map(({ place }) => place)).toEqual(['-']);
  });
  test('takes what it declares, help and what stands after --', () => {
    expect(unknownOptions(command, ['a', '--help', '--debug', '-5', '--', '--nonsense'])).toEqual([]);
  });
});

test('a switch stated both ways is refused, the same way twice is not', () => {
  const faults = (...words: string[]) => contradictedSwitches(named('new'), ['a.yaml', ...words]);
  for (const words of [
    ['--force=false', '--force'],
    ['--force', '--force', 'false'],
  ])
    expect(faults(...words)).toMatchObject([{ place: '--force' }]);
  expect(faults('--force', '--force')).toEqual([]);
  expect(faults('--force=false', '--', '--force')).toEqual([]);
});

describe('an option meant is named', () => {
  test.each([
    ['report', '--out', '-o/--output'],
    ['report', '--audience', '--help'],
    ['report', '--trial', '--trials'],
    ['sweep', '--dryrun', '--dry-run'],
    ['sweep', '--thread', '--threads'],
    ['lesson', '--students', '--student'],
    ['time', '--quiet', '--quiet-feeder'],
    ['fit', '--no-load', '--no-load-current'],
    ['run', '--jsn', '--json'],
  ])('%s %s: %s', (command, stated, meant) => {
    expect(unknownOptions(named(command), [stated])[0]!.message).toContain(meant);
  });
  test('both ways of writing a name are taken', () => {
    expect(unknownOptions(named('fit'), ['--noLoadCurrent', '3', '--laser-to-sieve'])).toEqual([]);
    expect(unknownOptions(named('fit'), ['--no-load-current=3'])).toEqual([]);
  });
  test('twice, or without its value', () => {
    expect(misstatedOptions(named('report'), { output: ['a', 'b'], set: ['x', 'y'] })).toEqual([
      { place: '-o/--output', message: 'is given twice; keep one' },
    ]);
    expect(
      misstatedOptions(named('sweep'), { threads: Number.NaN, output: '' }).map(({ place }) => place),
    ).toEqual(['-o/--output', '--threads']);
    expect(misstatedOptions(named('run'), { json: true, set: [] })).toEqual([]);
  });
});

test('a stray --out writes nothing and names -o/--output', async () => {
  const scenario = resolve('scenarios/erythritol.yaml');
  const { code, err, out } = await grindloop('report', scenario, '--out', 'stray.html', '--nonsense');
  expect(code).toBe(1);
  expect(out).toBe('');
  expect(err).toBe(
    'report has no option --out; did you mean -o/--output?\nreport has no option --nonsense; grindloop report --help lists them\n',
  );
  expect(existsSync(join(folder, 'stray.html'))).toBe(false);
  expect(existsSync(join(folder, 'erythritol.html'))).toBe(false);
  const twice = await grindloop('report', scenario, '-o', 'a.html', '-o', 'b.html');
  expect([twice.code, twice.err]).toEqual([1, '-o/--output: is given twice; keep one\n']);
  const bare = await grindloop('report', scenario, '-o');
  expect([bare.code, bare.err]).toEqual([1, '-o/--output: needs a value\n']);
});

test.each([
  ['sweep --threads 0 --shard 9/2 --set settings.feedRate=3', ['--threads', '--shard', '--set']],
  ['scale --to production-600 --wheel none --air 3 --set settings.feedRate=3', ['--air', '--wheel', '--set']],
  ['compare --by none --fines 3 --svg a.svg --set air.flow=2', ['--figure', '--by', '--fines', '--set']],
  ['run --svg a.svg --set air.flow=2', ['--figure', '--set']],
])('%s: faults of options and scenario come at once', async (line, places) => {
  const [command, ...rest] = line.split(' ');
  const { code, err } = await grindloop(command!, resolve('scenarios/erythritol.yaml'), ...rest);
  expect(code).toBe(1);
  expect(
    err
      .trimEnd()
      .split('\n')
      .map((fault) => fault.split(':')[0]),
  ).toEqual(places);
});

test.each([
  [['run'], 'run: name a scenario file, e.g. grindloop run my-case.yaml'],
  [['merge'], 'merge: name the stores to join, e.g. grindloop merge out/a out/b -o out/whole'],
  [['sweep', 'a.yaml', '--threds', '3'], 'sweep has no option --threds; did you mean --threads?'],
  [['frobnicate'], 'no command frobnicate; grindloop --help lists all'],
  [['swep', 'a.yaml'], 'no command swep; did you mean sweep?'],
  [[], 'name a command, e.g. grindloop run my-case.yaml; grindloop --help lists all'],
  [['run', 'a.yaml', 'b.yaml'], 'run: unexpected b.yaml; it takes <file> and options'],
  [['sweep', 'a.yaml', '--export', 'xml'], '--export: must be one of csv, parquet, is "xml"'],
  [['scale', 'a.yaml'], 'scale: --to must be given; grindloop scale --help shows its options'],
])('the parser speaks in the program’s own words: %j', async (words, sentence) => {
  const { code, err, out } = await grindloop(...words);
  expect([code, err, out]).toEqual([1, `${sentence}\n`, '']);
});
