import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { InputError } from '../../src/scenario/errors.ts';
import { packageCatalogue } from '../../src/scenario/load.ts';
import { parseScenario } from '../../src/scenario/parse.ts';

const DEMO = readFileSync('scenarios/erythritol.yaml', 'utf8');
const catalogue = packageCatalogue();
/** A text of any kind is read or refused within this time [ms], on a busy machine. */
const PATIENCE = 4000;

/** Faults of a text; anything but a scenario or faults in words fails the test. */
function outcome(text: string, set: readonly string[] = []): 'read' | readonly string[] {
  const started = performance.now();
  try {
    parseScenario(text, { ...catalogue, set });
    return 'read';
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    for (const { place, message } of error.faults) {
      expect(place.length).toBeGreaterThan(0);
      // What was typed may stand in quotes; the program's own words must be words.
      expect(message.replace(/"[^"]*"/g, '')).not.toMatch(/undefined|NaN|\[object|at .*\.ts:\d/);
      expect(message.length).toBeLessThan(600);
    }
    return error.faults.map(({ place, message }) => `${place}: ${message}`);
  } finally {
    expect(performance.now() - started).toBeLessThan(PATIENCE);
  }
}

const repeat = (text: string, times: number) => text.repeat(times);

describe('texts made to break a reader are refused, quickly and in words', () => {
  test.each([
    ['nothing', ''],
    ['blank', '\n\n  \n'],
    ['one word', 'mill'],
    ['a list', '- a\n- b'],
    ['null', '~'],
    ['bytes', 'title: \u0000\u0001'],
    ['replacement signs', 'title: \ufffd'],
    ['brackets', repeat('[', 100_000)],
    ['braces', repeat('{a: ', 50_000)],
    ['dashes', repeat('- ', 9_000)],
    ['question marks', repeat('? ', 9_000)],
    ['steps', Array.from({ length: 2000 }, (_, i) => `${' '.repeat(i)}a:`).join('\n')],
    ['a long line', `title: ${repeat('x', 900_000)}`],
    ['many lines', repeat('a\n', 100_000)],
    ['many keys', Array.from({ length: 15_000 }, (_, i) => `k${i}: 1`).join('\n')],
    ['many equal keys', repeat('title: a\n', 15_000)],
    ['two megabytes', repeat('title: a\n', 250_000)],
    ['quotes', repeat('"', 15_000)],
    ['tabs', '\ttitle: a'],
    ['an alias bomb', `a: &a [x,x]\nb: &b [*a,*a]\nc: &c [*b,*b]\nd: [*c,*c]`],
    ['a merge key', '<<: { title: a }'],
    ['a tag', 'title: !!js/function "() => 1"'],
    ['two documents', 'title: a\n---\ntitle: b'],
    ['a directive', '%YAML 9.9\n---\ntitle: a'],
    ['a prototype', '__proto__: { title: a }'],
    ['a constructor', 'constructor: { prototype: { title: a } }'],
    ['keys that are lists', '? [a, b]\n: c'],
    ['escapes', `title: "\\u0000\\x07"\nmachine: 5`],
    ['names of methods', DEMO.replace(/medium-leaning/g, 'toString').replace(/medium-radial/g, 'valueOf')],
  ])('%s', (name, text) => {
    const result = outcome(text);
    if (name !== 'names of methods') expect(result).not.toBe('read');
  });

  test('no key reaches an object’s prototype', () => {
    outcome('__proto__: { polluted: 1 }\njob: { __proto__: { polluted: 1 } }');
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });
});

const words = fc.constantFrom(
  '',
  'unknown',
  '5',
  '-5',
  '0',
  '5 mm',
  '1e9 mm',
  '0.5',
  '50 %',
  'NaN',
  'Infinity mm',
  '5..7 mm',
  '7..5 mm',
  '5,5 mm',
  'bar',
  'pilot-300',
  '{}',
  '[]',
  '[1, 2]',
  '{ value: 5 mm }',
  '{ from: x }',
  '{ from: pilot-300 }',
  '"',
  "'",
  '~',
  '25 Hz',
  '100 mesh',
  '1 ton',
  '5 kg/(J m)',
  '__proto__',
  'toString',
  '> 5',
  '|',
  '*a',
  '&a 5',
  '!t 5',
  '$(1)',
  '<b>x</b>',
);

describe('damage anywhere in a scenario', () => {
  const lines = DEMO.split('\n');

  test('a line lost, doubled or swapped is read or refused in words', () => {
    fc.assert(
      fc.property(fc.nat(lines.length - 1), fc.nat(lines.length - 1), fc.nat(2), (i, j, how) => {
        const changed = [...lines];
        if (how === 0) changed.splice(i, 1);
        else if (how === 1) changed.splice(i, 0, lines[j]!);
        else [changed[i], changed[j]] = [changed[j]!, changed[i]!];
        outcome(changed.join('\n'));
      }),
      { seed: 11, numRuns: 80 },
    );
  });

  test('characters lost or put in are read or refused in words', () => {
    fc.assert(
      fc.property(
        fc.nat(DEMO.length),
        fc.nat(3),
        fc.string({ maxLength: 4, unit: 'grapheme' }),
        (at, lost, put) => {
          outcome(DEMO.slice(0, at) + put + DEMO.slice(at + lost));
        },
      ),
      { seed: 12, numRuns: 120 },
    );
  });

  test('any value replaced by anything is read or refused at its own place', () => {
    const spots = [...DEMO.matchAll(/(?<=: )[^\s{}[\],][^{}[\],\n]*/g)].filter(({ index }) => index > 600);
    fc.assert(
      fc.property(fc.nat(spots.length - 1), words, (i, word) => {
        const spot = spots[i]!;
        outcome(DEMO.slice(0, spot.index) + word + DEMO.slice(spot.index + spot[0].length));
      }),
      { seed: 13, numRuns: 150 },
    );
  });

  test('any path and value of --set', () => {
    const keys = fc.constantFrom(
      'machine',
      'rotor',
      'geometry',
      'gap',
      'wheels',
      'wheel',
      'settings',
      'feedRate',
      'spec',
      '0',
      '99',
      'material',
      'from',
      'feed',
      'x50',
      'sweep',
      'factors',
      '__proto__',
      '',
      'constructor',
      'efficiency',
      'law',
      'air',
      'title',
      'job',
    );
    fc.assert(
      fc.property(fc.array(keys, { maxLength: 5 }), words, (path, word) => {
        outcome(DEMO, [`${path.join('.')}=${word}`]);
      }),
      { seed: 14, numRuns: 120 },
    );
  });

  test('any text as a requirement or a goal', () => {
    const pieces = fc.constantFrom(
      'x50',
      'x97.5',
      'passing',
      '(',
      ')',
      '75 um',
      '5 %',
      '20 degC',
      '>=',
      '<',
      '+',
      '-',
      '*',
      '/',
      '^',
      '200 mesh',
      'motorLoad',
      '=',
      '?',
      ':',
      '[',
      ']',
      ',',
      '!',
      "'",
      'x',
      '.',
      'e',
      'end',
      'function',
      '1e5',
      'to',
      'in',
      'mod',
      '%',
      'ans',
      ' ',
      'Hz',
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 12 }), (parts) => {
        const text = JSON.stringify(parts.join(' '));
        outcome(DEMO.replace(/^spec:.*$/m, `spec: [ ${text} ]`).replace(/^goal:.*$/m, `goal: ${text}`));
      }),
      { seed: 15, numRuns: 150 },
    );
  });
});
