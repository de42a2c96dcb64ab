import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { runCommandLine } from '../../src/cli/command-line.ts';
import { InputError } from '../../src/scenario/errors.ts';
import { parseGoal, parseRequirement } from '../../src/scenario/expression/parse-expression.ts';
import { packageCatalogue } from '../../src/scenario/load.ts';
import { QUANTITIES } from '../../src/scenario/outcome/quantities.ts';
import { parseScenario } from '../../src/scenario/parse.ts';
import { parseValue } from '../../src/scenario/units/parse-quantity.ts';
import { isProblem } from '../../src/scenario/units/unit-problem.ts';

const DEMO = readFileSync('scenarios/erythritol.yaml', 'utf8');
const catalogue = packageCatalogue();
/** What a text may take at most, whatever is in it [ms]. */
const LIMIT = 2000;

/** What an expression must not reach, by what it tries. Each stands alone, as the side of a comparison, and in a goal. */
const ATTACKS: Readonly<Record<string, readonly string[]>> = {
  'definition of a function': ['f(x) = x', 'f(x)=f(x-1)', 'x50(x) = 1', '(x) => x', 'function(){}'],
  assignment: ['x50 = 1 um', 'a = 1; a', 'x50 := 1', 'x50 += 1 um', 'a.b = 1', 'ans'],
  'property access': [
    ...['x50.constructor', 'x50["__proto__"]', "x50['constructor']", 'x50[1]', 'x50.toString()', 'a.b.c'],
    ...[
      'constructor',
      '__proto__',
      'prototype',
      'toString',
      'valueOf',
      'hasOwnProperty',
      'this',
      'globalThis',
    ],
    ...[
      'constructor(1 um)',
      'toString()',
      'x50.constructor.constructor("return process")()',
      'process',
      'require',
    ],
  ],
  'the parser and its kin': [
    ...[
      'import({})',
      'import(1)',
      'createUnit("x")',
      'createUnit(x)',
      'evaluate("1")',
      'evaluate(1)',
      'parse("1")',
    ],
    ...[
      'parse(x50)',
      'parser()',
      'simplify(x50)',
      'derivative(x50, x50)',
      'compile(x50)',
      'config({})',
      'help(x50)',
    ],
    ...['typed(x50)', 'reviver(x50)', 'replacer(x50)', 'chain(x50)', 'eval(1)', 'Function(1)', 'import.meta'],
  ],
  'large things': [
    ...[
      'zeros(1e9)',
      'ones(1e5, 1e5)',
      'identity(1e6)',
      '1:1e12',
      'sum(1:1e9)',
      'range(1, 1e12)',
      'x50[1:1e9]',
    ],
    ...[
      '[1, 2, 3]',
      '[[1,2],[3,4]]',
      '{a: 1}',
      'matrix()',
      'random(1e9)',
      'permutations(170)',
      'map(x50, x50)',
    ],
  ],
  'slow or endless arithmetic': [
    ...[
      '170!',
      '1e9!',
      'x50!',
      'factorial(1e8)',
      'gamma(1e8)',
      '9^9^9^9',
      'x50^9999',
      '2^1e9',
      'pow(9, 1e9)',
    ],
    ...[
      'exp(1e9)',
      'log(0)',
      'sqrt(x50)',
      'isPrime(1e15)',
      'combinations(1e6, 5e5)',
      'fibonacci(1e9)',
      'bignumber(1)',
    ],
    ...[
      '1e999',
      '1e309 um',
      'x50 * 1e999',
      'while(1){}',
      'for(;;){}',
      'x50 ? x50 : x50',
      'x50 and x50',
      'not x50',
    ],
  ],
  texts: [
    '"x50"',
    "'x50'",
    '`x50`',
    '"a" + "b"',
    'concat("a")',
    '"\\u0078"',
    `$${'{x50}'}`,
    '$(id)',
    '// x50',
    '# x50',
  ],
  'tricks with units': [
    ...[
      'x50 to mm',
      'x50 in mm',
      'to(x50, mm)',
      'unit(x50)',
      'unit("5 m")',
      '5 um um um um',
      '1 furlong^9',
      '1 m^1e9',
    ],
    ...[
      '1 um^0.5',
      '1 um^-9',
      '20 degC * 2',
      'degC',
      'mesh',
      '1e9 mesh',
      '-200 mesh',
      '5 mesh^2',
      'Hz',
      'rpm^2',
    ],
    ...['1 ton', '1 bit', '1 USD', 'speedOfLight', 'planckLength', 'pi', 'e', 'i', 'tau', 'null', 'NaN'],
    ...['Infinity', 'true', 'undefined', '0x10 um', '0b1', '1_000 um', '1,5 um', "1'000 um"],
  ],
  'letters that look alike': [
    ...['х50', 'x５０', 'ｘ50', 'x5О', 'x50\u200b', 'x\u00ad50', '\u202ex50', 'x50\u0000', 'ⅹ50'],
    ...['pαssing(75 um)', 'passing（75 um）', '٧٥ um', '७५ um', '75 𝜇m', 'x₅₀', 'x⁵⁰', '∞', '½ um', '1‰'],
  ],
  depth: [
    ...[
      `${'('.repeat(10_000)}x50${')'.repeat(10_000)}`,
      `${'('.repeat(148)}x50`,
      '-'.repeat(299),
      '+'.repeat(299),
    ],
    ...[`${'('.repeat(21)}x50${')'.repeat(21)}`, 'passing('.repeat(30), 'x50+'.repeat(74), 'x50*'.repeat(74)],
    ...[
      'x50/'.repeat(74),
      '1-'.repeat(149),
      '%'.repeat(299),
      '^2'.repeat(149),
      '9'.repeat(299),
      '9e'.repeat(149),
    ],
  ],
};
const EVERY = Object.entries(ATTACKS).flatMap(([kind, texts]) => texts.map((text) => [kind, text] as const));

/** A refusal in words: short, no sense lost, nothing of the program's inside. */
function expectWords(problem: string): void {
  expect(problem.length).toBeGreaterThan(10);
  expect(problem.length).toBeLessThan(400);
  expect(problem.replace(/"[^"]*"+/g, '').replace(/(names|unknown unit) \S+|^\S+(?=\(…\))/, '')).not.toMatch(
    /\bundefined\b|\[object|TypeError|RangeError|\bat .*\.[jt]s:/,
  );
}

/** Processor time this process has taken [ms]: a busy machine does not lengthen it. */
function processorTime(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

function timed<T>(run: () => T): T {
  const started = processorTime();
  try {
    return run();
  } finally {
    expect(processorTime() - started).toBeLessThan(LIMIT);
  }
}

describe.each(Object.keys(ATTACKS))('%s', (kind) => {
  const texts = ATTACKS[kind]!;
  test.each(texts.map((text) => [text.slice(0, 60), text]))('%s is refused in a spec', (_, text) => {
    // a sum or product of readings may be a sound quantity; alone it still compares nothing
    for (const line of [text, `${text} >= 1 um`, `1 um <= (${text})`, `x50 >= ${text}`]) {
      const read = timed(() => parseRequirement(line, QUANTITIES));
      expect(isProblem(read), line).toBe(true);
      if (isProblem(read)) expectWords(read.problem);
    }
  });
  test.each(texts.map((text) => [text.slice(0, 60), text]))('%s is refused in a goal', (_, text) => {
    for (const line of [text, `maximise ${text}`, `minimise x50 + ${text}`]) {
      const read = timed(() => parseGoal(line, QUANTITIES));
      expect(isProblem(read), line).toBe(true);
      if (isProblem(read)) expectWords(read.problem);
    }
  });
});

test.each(EVERY)('%s: %s is no value of anything', (_, text) => {
  for (const wanted of [
    { unit: 'm', shownIn: 'um' },
    { unit: '1/s', shownIn: 'rpm' },
    { unit: 'K', shownIn: 'degC' },
    { unit: '1', shownIn: '1' },
  ]) {
    for (const typed of [text, `5 ${text}`]) {
      const read = timed(() => parseValue(typed, wanted));
      if (isProblem(read)) expectWords(read.problem);
      else expect(Number.isFinite(read.value), typed).toBe(true);
    }
  }
});

/** Paths of a scenario that take an expression, a value, a name or a path. */
const PLACES = [
  ...[
    'spec.0',
    'goal',
    'settings.rotorSpeed',
    'settings.wheel',
    'feed.x50',
    'material.density',
    'machine.drives.wheel',
  ],
  ...[
    'sweep.factors.feedRate.from',
    'sweep.factors.wheel.0',
    'sweep.design',
    'machine.wheels.medium-radial.efficiency',
  ],
];

test.each(PLACES)('through --set, %s', (path) => {
  for (const [, text] of EVERY) {
    timed(() => {
      try {
        parseScenario(DEMO, { ...catalogue, set: [`${path}=${JSON.stringify(text)}`] });
        expect(['unknown', 'i', 'e'].includes(text) || path === 'title', `${path}=${text}`).toBe(false);
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        for (const { message } of error.faults) expectWords(message);
      }
    });
  }
});

test('as a path of --set, and of a factor', () => {
  for (const [, text] of EVERY) {
    for (const set of [`${text}=1 um`, `sweep.factors.${text}.from=1 um`, `machine.wheels.${text}={}`]) {
      timed(() => {
        try {
          parseScenario(DEMO, { ...catalogue, set: [set] });
        } catch (error) {
          if (!(error instanceof InputError)) throw error;
        }
      });
    }
  }
  expect(({} as Record<string, unknown>).from).toBeUndefined();
});

test.each([
  ['find', '--confidence', (text: string) => [text]],
  ['compare', '--by', (text: string) => [text]],
  ['compare', '--at', (text: string) => [text]],
  ['compare', '--fines', (text: string) => [text]],
  ['scale', '--air', (text: string) => [text, '--to', 'production-600']],
  ['sweep', '--quantities', (text: string) => [text, '--dry-run']],
])('%s %s', async (command, option, words) => {
  const errors: string[] = [];
  const write = process.stderr.write;
  process.stderr.write = ((text: string) => errors.push(text) > 0) as typeof write;
  try {
    // the first call loads the command
    await runCommandLine([command, 'scenarios/erythritol.yaml', `${option}=()`, ...words('()').slice(1)]);
    for (const [, text] of EVERY.filter(([, one]) => one.length <= 300 && !/["']/.test(one))) {
      const line = [command, 'scenarios/erythritol.yaml', `${option}=${text}`, ...words(text).slice(1)];
      const started = processorTime();
      expect(await runCommandLine(line), line.join(' ')).toBe(1);
      expect(processorTime() - started).toBeLessThan(LIMIT);
    }
  } finally {
    process.stderr.write = write;
  }
  expect(errors.join('')).not.toMatch(/this is a bug/);
});

test('many long lines of a spec keep within the limit too', () => {
  const line = `"${'x50+'.repeat(15)}x50 >= 1 um"`;
  const started = processorTime();
  try {
    parseScenario(DEMO.replace(/^spec:.*$/m, `spec: [ ${Array(5000).fill(line).join(', ')} ]`), catalogue);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
  }
  expect(processorTime() - started).toBeLessThan(2 * LIMIT);
});

test('the same texts, evaluated by the library that parses them, would not end in time', () => {
  for (const text of ['sum(1:1e9)', 'zeros(1e9)']) {
    const code = `import mathjs from 'mathjs/lib/browser/math.js'; mathjs.create({}).evaluate(${JSON.stringify(text)})`;
    const node = ['--max-old-space-size=256', '--input-type=module', '-e', code];
    const { status, error } = spawnSync(process.execPath, node, { timeout: LIMIT });
    expect(status === 0 && error === undefined, text).toBe(false);
    expect(isProblem(timed(() => parseRequirement(`${text} >= 1`, QUANTITIES)))).toBe(true);
  }
});
