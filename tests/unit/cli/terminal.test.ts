import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { onOneLine, shownText } from '../../../src/cli/terminal-text.ts';
import { askApart } from '../../../src/sweep/store/query-apart.ts';

const PROGRAM = resolve('dist/src/cli/main.js');
const DEMO = resolve('scenarios/erythritol.yaml');
const folder = mkdtempSync(join(tmpdir(), 'grindloop-terminal-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function grindloop(...words: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [PROGRAM, ...words], {
    encoding: 'utf8',
    cwd: folder,
  });
  return { code: status, out: stdout, err: stderr };
}

/** What a terminal obeys, in whatever it is sent. */
const OBEYED = /[^\P{Cc}\n\t]|[\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069]/u;
const TITLE = 'title="a\\e[31mred\\a \\u202E over \\x9b2J"';

describe('characters a terminal obeys are shown', () => {
  test('each by its number', () => {
    expect(shownText('a\u001b[31m\u0007\u202eb\r')).toBe('a\\u001b[31m\\u0007\\u202eb\\u000d');
    expect(shownText('µm ≥ 叶 \n\tعجلة')).toBe('µm ≥ 叶 \n\tعجلة');
    expect(onOneLine('a\nb\tc')).toBe('a\\nb\\tc');
  });
  test.each(['run', 'check', 'compare', 'plant'])('of a title, by %s', (command) => {
    const { out, err } = grindloop(command, DEMO, '--set', TITLE);
    expect(out).toContain('a\\u001b[31mred');
    expect(out + err).not.toMatch(OBEYED);
  });
  test('of faults', () => {
    for (const words of [
      ['run', 'a\u001b[31m.yaml'],
      ['run', DEMO, '--set', 'settings.\u202ex=3'],
      ['\u001b[2J'],
    ]) {
      const { code, err } = grindloop(...words);
      expect(code).toBe(1);
      expect(err).not.toMatch(OBEYED);
    }
  });
  test('in JSON, where they mean themselves', () => {
    const { out } = grindloop('check', DEMO, '--json', '--set', TITLE);
    expect(out).not.toMatch(OBEYED);
    expect(JSON.parse(out).title).toBe('a\u001b[31mred\u0007 \u202e over \u009b2J');
  });
});

describe('sql', () => {
  const out = join(folder, 'swept');
  const small = [
    'sweep.factors.rotorSpeed.steps=2',
    'sweep.factors.wheelSpeed.steps=2',
    'sweep.factors.feedRate.steps=1',
  ];
  const sets = small.flatMap((one) => ['--set', one]);
  beforeAll(() => {
    expect(grindloop('sweep', DEMO, ...sets, '-o', out, '--threads', '1').code).toBe(0);
  });
  const ask = (question: string, ...options: string[]) => grindloop('sql', out, question, ...options);

  test('a cell stands on one line, whatever is in it', () => {
    const { out: text } = ask("select chr(27) || '[31m' as a, 'x' || chr(10) || 'y' as b, 1 as n");
    expect(text).toBe(['a           b     n', '----------  ----  -', '\\u001b[31m  x\\ny  1', ''].join('\n'));
    expect(ask('select * from study').out.trimEnd().split('\n').length).toBe(12);
  });
  test('a sweep and its report say the same in JSON', () => {
    const [swept, reported] = [
      grindloop('sweep', DEMO, ...sets, '-o', out, '--threads', '1', '--json'),
      grindloop('report', out, '--json'),
    ].map(({ out: text }) => JSON.parse(text));
    expect(swept).toMatchObject({ store: join(out, 'sweep.duckdb'), points: 12, of: 12, exported: null });
    const { store: _, of: __, columns, exported: ___, ...rest } = swept;
    expect(columns).toBeGreaterThan(50);
    expect(rest).toEqual(reported);
    expect(swept.meeting).toBe(
      Number(
        JSON.parse(ask('select count(*)::INTEGER as n from points where "meetsSpec"', '--json').out)[0].n,
      ),
    );
  });
  test('--csv and --json give the same values', () => {
    const question = `select 1.5 as x, true as yes, null as none, 'a,"b"' as t, 12::BIGINT as n`;
    expect(JSON.parse(ask(question, '--json').out)).toEqual([
      { x: 1.5, yes: true, none: null, t: 'a,"b"', n: 12 },
    ]);
    expect(ask(question, '--csv').out).toBe('x,yes,none,t,n\n1.5,true,,"a,""b""",12\n');
    expect(ask(question, '--csv', '--json').err).toMatch(/must not both be given/);
  });
  test.each([
    [';', /^sql: the question is empty/],
    [' ; ; ', /^sql: the question is empty/],
    ['select', /^sql: .*Parser Error/],
    [
      "call enable_logging(storage='file', storage_path='x'); select 1; select count(*) from duckdb_logs",
      /^sql: the database ended at this statement: Cannot access directory .* the store is as it was$/m,
    ],
    ["copy points to 'stolen.csv'", /disabled/],
    ['delete from points', /read-only/],
  ])('%s ends in words', (question, words) => {
    const { code, err } = ask(question);
    expect(err).toMatch(words);
    expect(err).not.toMatch(/this is a bug|terminate called|\n\s+at |undefined/);
    expect(code).toBe(1);
  });
});

test('a question that ends the process it is asked in ends in words here', async () => {
  const script = `process.once('message', () => { process.stderr.write("terminate called\\n  what():  {\\"exception_message\\":\\"no such thing\\"}\\n", () => process.abort()); });`;
  const file = join(folder, 'aborts.mjs');
  writeFileSync(file, script);
  await expect(askApart('x', 'select 1', 1, file)).rejects.toThrow(
    'sql: the database ended at this statement: no such thing; the store is as it was',
  );
});

describe.runIf(existsSync('/dev/full'))('a full disk behind standard output', () => {
  test.each([[['run', DEMO]], [['quantities']], [['--help']], [['check', DEMO, '--json']], [['completion']]])(
    '%s: one line, exit 1',
    (words) => {
      const line = `"$0" "$@" > /dev/full`;
      const { status, stderr } = spawnSync('bash', ['-c', line, process.execPath, PROGRAM, ...words], {
        encoding: 'utf8',
      });
      expect(stderr).toBe('standard output: cannot be written, the disk is full\n');
      expect(status).toBe(1);
    },
  );
  test('standard error too: no trace, exit 1', () => {
    const line = `"$0" "$@" > /dev/full 2> /dev/full`;
    expect(spawnSync('bash', ['-c', line, process.execPath, PROGRAM, 'run', DEMO]).status).toBe(1);
  });
  test('a file named /dev/full', () => {
    const { code, err } = grindloop('run', DEMO, '--figure', 'balance', '--svg', '/dev/full');
    expect([code, err]).toEqual([1, expect.stringMatching(/^\/dev\/full: .*the disk is full.*\n$/)]);
  });
});

test('a list of 100 001 columns is refused at once', () => {
  const list = join(folder, 'wide.csv');
  writeFileSync(
    list,
    [0, 1, 2].map((k) => Array.from({ length: 100_001 }, (_, c) => `${k}${c}`).join(',')).join('\n'),
  );
  const sets = ['--set', 'sweep={design: list, file: wide.csv}'];
  writeFileSync(join(folder, 'wide.yaml'), `from: ${DEMO}\n`);
  const start = performance.now();
  const { code, err } = grindloop('sweep', 'wide.yaml', ...sets);
  expect(err).toMatch(/wide\.csv: must have at most 24 columns, one a factor; has 100001/);
  expect(code).toBe(1);
  // the whole process on a busy machine; alone the refusal takes a fifth of a second
  expect(performance.now() - start).toBeLessThan(10_000);
});
