import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { figureWish } from '../../../src/cli/figure-options.ts';
import { grindloop } from '../../program.ts';

const DEMO = 'scenarios/erythritol.yaml';
const folder = mkdtempSync(join(tmpdir(), 'grindloop-figures-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const at = (name: string) => join(folder, name);

test('run writes a figure both ways, and --json stays JSON', async () => {
  const [svg, png] = [at('a.svg'), at('a.png')];
  const { code, out } = await grindloop(
    ...['run', DEMO, '--json', '--figure', 'balance', '--svg', svg, '--png', png, '--width', '700'],
  );
  expect(code).toBe(0);
  expect(JSON.parse(out).status).toBe('steady');
  expect(readFileSync(svg, 'utf8')).toMatch(/^<svg .*width="700"/);
  expect(readFileSync(png).readUInt32BE(16)).toBe(1400);
});

test('report writes a figure without the page, and compare and lesson theirs', async () => {
  const written = await Promise.all([
    grindloop('report', DEMO, '--figure', 'ladder', '--svg', at('ladder.svg')),
    grindloop('compare', DEMO, '--figure', 'grades', '--svg', at('grades.svg')),
    grindloop('lesson', '--figure', 'too-much', '--svg', at('too-much.svg')),
  ]);
  expect(written.map(({ code }) => code)).toEqual([0, 0, 0]);
  for (const name of ['ladder', 'grades', 'too-much'])
    expect(readFileSync(at(`${name}.svg`), 'utf8')).toContain('</svg>');
  expect(existsSync('erythritol.html')).toBe(false);
  expect(written[0]!.out).toBe(`${at('ladder.svg')}\n`);
}, 60_000);

test.each([
  ['a wrong name', at('no.svg'), 'windows', /no figure windows here; there are size-curve, /],
  ['a place that is not there', at('nowhere/a.svg'), 'ladder', /there is no folder .*nowhere; make it first/],
])('%s is refused, and nothing is printed or written', async (_, file, figure, message) => {
  const { code, out, err } = await grindloop('run', DEMO, '--figure', figure, '--svg', file);
  expect(code).toBe(1);
  expect(out).toBe('');
  expect(err).toMatch(message);
  expect(readdirSync(folder).filter((name) => name.startsWith('no') || name.includes('part'))).toEqual([]);
});

test.each([
  ['no file', { figure: 'ladder', width: 900 }, /--figure: say where it goes: --svg FILE or --png FILE/],
  ['no figure', { svg: 'a.svg', width: 900 }, /--figure: say which figure goes to a.svg/],
  [
    'a width out of range',
    { figure: 'ladder', svg: 'a.svg', width: 5 },
    /--width: must be 320 to 4000 px, is 5/,
  ],
  ['no number', { figure: 'ladder', svg: 'a.svg', width: Number.NaN }, /--width/],
  ['an empty name', { figure: 'ladder', png: '', width: 900 }, /--png: needs the name of a file/],
])('%s is refused', (_, options, message) => {
  expect(() => figureWish(options)).toThrow(message);
});

test('nothing is asked where nothing is named', () => {
  expect(figureWish({ width: 900 })).toBeUndefined();
});
