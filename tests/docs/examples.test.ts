import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { parseRequirement } from '../../src/scenario/expression/parse-expression.ts';
import { QUANTITIES } from '../../src/scenario/outcome/quantities.ts';
import * as cases from '../cases.ts';

/** `@example expression // value` on one line, of pure modules: run and compared. */
const EXAMPLE = /^ \* @example (.+?) \/\/ (.+)$/gm;
/** Examples written as words, not as values. */
const WORDS = /^(role|unit) /;

interface Example {
  readonly file: string;
  readonly expression: string;
  readonly wanted: string;
}

const examples: Example[] = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .flatMap((file) =>
    [...readFileSync(join('src', file), 'utf8').matchAll(EXAMPLE)].map((found) => ({
      file,
      expression: found[1]!,
      wanted: found[2]!,
    })),
  )
  .filter(({ expression, wanted }) => !WORDS.test(wanted) && !expression.includes('…'));

/** A spec line, as examples about requirements name it. */
const parse = (text: string) => parseRequirement(text, QUANTITIES);

/** Digits a number is written with decide how closely it must be met. */
function agrees(found: unknown, wanted: string): void {
  const number = /^-?\d[\d ]*(?:\.\d+)?(?:e-?\d+)?(?= [a-zA-Z/³²]+$|$)/.exec(wanted)?.[0];
  if (typeof found === 'number' && number) {
    const value = Number(number.replaceAll(' ', ''));
    const digits = number.replace(/e.*$/, '').replace(/[^\d]/g, '').replace(/^0+/, '').length;
    const tolerance = Math.max(Math.abs(value) * 0.6 * 10 ** (1 - Math.max(digits, 3)), 1e-12);
    expect(Math.abs(found - value)).toBeLessThanOrEqual(tolerance);
    return;
  }
  expect(found).toEqual(new Function(`return (${wanted});`)());
}

describe('the examples of docstrings give what they say', () => {
  test.each(examples)('$file: $expression', async ({ file, expression, wanted }) => {
    const exports = (await import(`../../src/${file}`)) as Record<string, unknown>;
    const scope: Record<string, unknown> = { ...exports, PILOT: cases.PILOT, QUANTITIES, parse };
    const text = expression.replace('solve(case)', 'solve(PILOT)');
    const names = Object.keys(scope).filter((name) => /^\w+$/.test(name) && name !== 'default');
    agrees(new Function(...names, `return (${text});`)(...names.map((name) => scope[name])), wanted);
  });
  test('there are many of them', () => {
    expect(examples.length).toBeGreaterThan(40);
  });
});
