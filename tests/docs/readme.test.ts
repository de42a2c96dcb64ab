import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { COMMANDS } from '../../src/cli/commands.ts';
import { filesBeside } from '../../src/scenario/load.ts';
import { parseScenario } from '../../src/scenario/parse.ts';

const README = readFileSync('README.md', 'utf8');

test('every file that DEVELOPERS names is there', () => {
  const named = readFileSync('DEVELOPERS.md', 'utf8').matchAll(/`((?:[\w-]+\/)+[\w-]+\.(?:ts|json|yaml))`/g);
  const paths = [...new Set([...named].map(([, path]) => path!))].filter(
    (path) => !/^(?:dist|out)\//.test(path),
  );
  expect(paths.length).toBeGreaterThan(40);
  expect(paths.filter((path) => !existsSync(path) && !existsSync(`src/${path}`))).toEqual([]);
});

describe('README', () => {
  test('has a row for every command, and no other', () => {
    const rows = [...README.matchAll(/^\| `(\w+)[^|]*\|/gm)].map((row) => row[1]!);
    const inRows = [...README.matchAll(/^\| (`\w+[^|]*) \|/gm)].flatMap((row) =>
      [...row[1]!.matchAll(/`(\w+)/g)].map((name) => name[1]!),
    );
    expect(rows.length).toBeGreaterThan(5);
    expect(inRows.sort()).toEqual(COMMANDS.map(({ usage }) => usage.split(' ')[0]!).sort());
  });
  test('its scenario is in order', () => {
    const text = /```yaml\n([\s\S]*?)```/.exec(README)![1]!;
    expect(parseScenario(text, filesBeside('x.yaml')).title).toBe('Lot 4711');
  });
  test('opens with one paragraph that states the job, then the two commands', () => {
    const [, first, second] = README.split('\n\n');
    expect(first!.length).toBeGreaterThan(400);
    expect(second).toMatch(/npm ci && npm run demo/);
    expect(second).toMatch(/npm ci && npm test/);
  });
});
