import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { InputError } from '../../../src/scenario/errors.ts';
import { loadScenario } from '../../../src/scenario/load.ts';

/** What each deliberately broken file must be told, in its own words: place, rule, value, remedy. */
const EXPECTED: Readonly<Record<string, readonly RegExp[]>> = {
  alias: [/feed \(line 3\): must not use anchors \(&name\); use `from:` instead/],
  'broken-bases': [
    new RegExp(
      [
        String.raw`^machine\.rotor\.geometry\.cuont \(line 6\): unknown key; did you mean count\?`,
        String.raw`machine\.rotor\.geometry\.gap \(line 6\): must be > 0 mm, is -2 mm; did you mean 2 mm\?`,
        String.raw`machine\.rotors\.wide\.geometry\.gap \(line 9\): must be > 0 mm, is -2 mm; did you mean 2 mm\?`,
        String.raw`machine\.wheels\.low\.geometry\.height \(line 12\): must be > 0 mm, is -3 mm`,
        String.raw`machine\.wheels\.borrowed\.from \(line 14\): .* is "no-such-wheel"; .*`,
        String.raw`machine\.wheels\.low\.maxSpeed: must be given: .*$`,
      ].join('\n'),
    ),
  ],
  'broken-rotors': [
    /machine\.rotors\.dense\.geometry\.cuont \(line 7\): unknown key; did you mean count\?/,
    /machine\.rotors\.wide\.geometry\.gap \(line 8\): must be > 0 mm, is -2 mm; did you mean 2 mm\?$/m,
    /machine\.rotors\.wide\.maxSpeed \(line 8\): has no unit; write \d+ m\/s \(rotor tip\) or \d+ rpm \(shaft\)$/m,
    /machine\.rotors\.2nd \(line 9\): must have a name of letters \(of any script\), digits, - and _, starting with a letter/,
    /machine\.rotors\.listed \(line 10\): must be a block of keys \(key: value\), is a list$/m,
    /machine\.rotors\.borrowed\.from \(line 11\): /,
  ],
  'closed-rim': [/machine\.wheels\.medium-leaning\.geometry \(line 4\): must leave air between the vanes/],
  'decimal-comma': [
    /settings\.feedRate \(line 5\): use a decimal point and no thousands separator: 150\.5 kg\/h, not 150,5 kg\/h$/,
  ],
  'duplicate-key': [/title \(line 7\): is given twice; keep one$/],
  'from-itself': [/machine\.wheels\.odd\.from \(line 4\): refers back to itself: odd → odd/],
  'grid-without-steps': [/sweep\.factors\.feedRate\.steps \(line 7\): must be given for a grid/],
  'hertz-without-drive': [/settings\.wheelSpeed \(line 15\): .*drive/],
  'missing-calibration': [/calibration \(line 7\): nowhere\.yaml cannot be read: there is no such file/],
  'missing-file': [/feed\.file \(line 3\): nowhere\.csv cannot be read: there is no such file/],
  'missing-law-parameter': [/feed\.exponent: must be given: width exponent/],
  'missing-unit': [/settings\.feedRate \(line 5\): has no unit; write 150 kg\/h$/],
  'negative-size': [/feed\.x50 \(line 3\): must be > 0 µm, is -500 µm/],
  'not-yaml': [/not-yaml\.yaml \(line 5\): is not readable as YAML/],
  overspeed: [/settings\.rotorSpeed \(line 5\): must be at most 7200 rpm, .* is 9500 rpm/],
  'range-in-settings': [/settings\.feedRate \(line 5\): must be one value, not a range$/],
  'several-faults': [
    /settings\.wheelSped \(line 5\): unknown key; did you mean wheelSpeed\?/,
    /settings\.feedRate \(line 5\): must be > 0 kg\/h, is -3 kg\/h/,
    /settings\.rotorSpeed \(line 5\): has no unit; write 90 m\/s \(rotor tip\) or 90 rpm \(shaft\)$/m,
    /spec\[0\] \(line 6\): must compare like with like/,
  ],
  'ring-of-wheels': [
    new RegExp(
      [
        String.raw`^machine\.wheels\.low\.from \(line 7\): refers back to itself: low → tall → steep → low`,
        String.raw`machine\.wheels\.tall\.geometry\.lenght \(line 8\): unknown key; did you mean height\?`,
        String.raw`machine\.wheels\.bare\.geometry\.height \(line 11\): must be > 0 mm, is -3 mm; the same for bald \(line 12\)`,
        String.raw`machine\.wheels\.bare\.maxSpeed: must be given: .*; the same for bald$`,
      ].join('\n'),
    ),
  ],
  'shares-not-whole': [/components \(line 2\): component shares add up to \d+ %, must be 100 %$/],
  'spec-of-wrong-kind': [/spec\[0\] \(line 6\): must compare like with like/],
  'spec-that-calls': [
    /spec\[0\] \(line 6\): sqrt\(…\) is not available; only passing\(size\) and oversize\(size\) take an argument$/m,
    /spec\[1\] \(line 6\): .*not "="/,
  ],
  'table-not-rising': [/feed\.points\[2\] \(line 3\): must be larger in size than the row before/],
  'unknown-design': [
    /^sweep\.design \(line 8\): must be one of grid, .*, is "sobl"; did you mean sobol\?\nsweep\.factors\.fedRate \(line 10\): [^\n]*$/,
  ],
  'unknown-factor': [
    /sweep\.factors\.wheel\.geometry\.heigth \(line 7\): .*did you mean machine\.wheels\.medium-leaning\.geometry\.height\?/,
  ],
  'unknown-key': [/settings\.rotorSped \(line 5\): unknown key; did you mean rotorSpeed\?/],
  'unknown-law': [/feed\.law \(line 3\): must be one of .*did you mean log-normal\?/],
  'unknown-material': [/material\.from \(line 2\): .*did you mean organic-crystal\?/],
  'unknown-mesh': [/feed\.x50 \(line 3\): 77 mesh is not an ASTM E11 sieve; the nearest is 80 mesh$/],
  'unknown-quantity': [/spec\[1\] \(line 6\): names motorLod, .*did you mean motorLoad\?/],
  'unknown-wheel': [/settings\.wheel \(line 5\): .*did you mean medium-leaning\?/],
  'wrong-kind-of-unit': [/settings\.rotorSpeed \(line 5\): .*kW is not a unit of that kind/],
  'zero-feed': [/settings\.feedRate \(line 5\): must be > 0 kg\/h, is 0 kg\/h/],
};

describe('tests/fixtures/invalid', () => {
  const files = readdirSync('tests/fixtures/invalid').map((file) => file.replace('.yaml', ''));
  test('has an expectation for every file', () => {
    expect(Object.keys(EXPECTED).sort()).toEqual(files.sort());
  });
  test.each(files)('%s', async (name) => {
    const error = await loadScenario(`tests/fixtures/invalid/${name}.yaml`).then(
      () => undefined,
      (reason: unknown) => reason,
    );
    expect(error).toBeInstanceOf(InputError);
    for (const wanted of EXPECTED[name]!) expect((error as InputError).message).toMatch(wanted);
  });
});

describe('every scenario that ships', () => {
  test.each(readdirSync('scenarios').filter((file) => file.endsWith('.yaml')))(
    '%s is in order',
    async (file) => {
      const scenario = await loadScenario(`scenarios/${file}`);
      expect(scenario.spec.length).toBeGreaterThan(0);
    },
  );
});
