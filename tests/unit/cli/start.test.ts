import { execFileSync } from 'node:child_process';
import { readFileSync, statSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { benchStart } from '../../bench/start-up.ts';

const PROGRAM = resolve('dist/src/cli/main.js');

/** Built files that one imports at once, and those they import, with itself. */
function closure(file: string, found = new Set<string>()): Set<string> {
  if (found.has(file)) return found;
  found.add(file);
  for (const [, target] of readFileSync(file, 'utf8').matchAll(/(?:from|import)\s*"(\.[^"]+)"/g))
    closure(join(dirname(file), target!), found);
  return found;
}

/** Files of the program with those a command adds when it is named. */
function partOf(command: string): Set<string> {
  const first = closure(PROGRAM);
  const pattern = new RegExp(`import\\("(\\./(?:parts/)?${command}-[A-Z0-9]+\\.js)"\\)`);
  for (const file of first) {
    const target = pattern.exec(readFileSync(file, 'utf8'))?.[1];
    if (target !== undefined) return closure(join(dirname(file), target), new Set(first));
  }
  throw new Error(`${command} is not loaded by itself`);
}

const bytesOf = (files: Iterable<string>): number =>
  [...files].reduce((sum, file) => sum + statSync(file).size, 0);

describe('a command loads its own parts only', () => {
  test('the program alone, for --help', () => {
    expect(bytesOf(closure(PROGRAM))).toBeLessThan(40_000);
  });
  test.each(['run', 'check'])(
    '%s needs no database, plotting, picture or thread library in the files it loads first',
    (command) => {
      const files = partOf(command);
      for (const file of files) {
        expect(readFileSync(file, 'utf8'), file).not.toMatch(/from\s*"(@duckdb|@resvg|piscina|plotly)/);
      }
    },
  );
});

// Where `node -e 0` takes 0.06 s: --help takes 0.07 and check 0.17. A run with a spec solves its point for 200 samples of
// the coefficients as well, in code that runs cold, and takes 0.43 in all.
test('starts at once, by the time node itself takes on this machine', () => {
  const { start_node_s, start_help_s, start_check_s, start_run_s } = benchStart();
  expect(start_help_s! / start_node_s!).toBeLessThan(2.2);
  expect(start_check_s! / start_node_s!).toBeLessThan(4);
  expect(start_run_s! / start_node_s!).toBeLessThan(9);
});

describe('what needs no command', () => {
  const say = (...words: string[]) =>
    execFileSync(process.execPath, [PROGRAM, ...words], { encoding: 'utf8' });
  const { version } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };
  test('--version and -V', () => {
    expect(say('--version')).toBe(`grindloop ${version}\n`);
    expect(say('-V')).toBe(`grindloop ${version}\n`);
  });
  test('-h is --help, of the program and of a command', () => {
    expect(say('-h')).toBe(say('--help'));
    expect(say('-h')).toMatch(/grindloop run <file> +one operating point/);
    expect(say('run', '-h')).toBe(say('run', '--help'));
  });
  test('help breaks no word and is no wider than the screen', () => {
    for (const line of say('--help').split('\n')) expect(line.length).toBeLessThanOrEqual(110);
  });
});

describe('completion', () => {
  const complete = (...words: string[]): string[] => {
    const script = execFileSync(process.execPath, [PROGRAM, 'completion'], { encoding: 'utf8' });
    const asked = `${script}\nCOMP_WORDS=(grindloop ${words.map((word) => `'${word}'`).join(' ')}); COMP_CWORD=${words.length}; _grindloop; printf '%s\\n' "\${COMPREPLY[@]}"`;
    return execFileSync('bash', ['-c', asked], { encoding: 'utf8' }).trim().split('\n');
  };
  test('of a command, an option and a file', () => {
    expect(complete('sw')).toEqual(['sweep']);
    expect(complete('sweep', '--thr')).toEqual(['--threads']);
    expect(complete('run', 'scenarios/eryth')).toContain('scenarios/erythritol.yaml');
  });
});
