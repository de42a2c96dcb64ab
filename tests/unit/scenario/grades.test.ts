import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { InputError } from '../../../src/scenario/errors.ts';
import { filesBeside, loadScenario } from '../../../src/scenario/load.ts';
import { parseScenario } from '../../../src/scenario/parse.ts';
import { gradeNames, scenarioOfGrade } from '../../../src/scenario/scenario-of-grade.ts';

const FILE = resolve(import.meta.dirname, '../../../scenarios/erythritol-grades.yaml');
const TEXT = readFileSync(FILE, 'utf8');
const BLOCK = /grades:\n( .*\n)+/;

const parse = (text: string) => parseScenario(text, filesBeside(FILE));
const withGrades = (block: string) => TEXT.replace(BLOCK, block);

function faultsOf(text: string): readonly string[] {
  try {
    parse(text);
  } catch (error) {
    if (error instanceof InputError)
      return error.faults.map(({ place, line, message }) => `${place} (${line}): ${message}`);
    throw error;
  }
  return [];
}

describe('grades of a scenario', () => {
  test('each is the common spec and its own, with its own goal or the common one', async () => {
    const scenario = await loadScenario(FILE, {
      set: ['grades.finest.goal=minimise specificEnergy'],
    });
    expect(gradeNames(scenario)).toEqual(['standard', 'fine', 'finest']);
    const finest = scenarioOfGrade(scenario, 'finest');
    expect(finest.spec.map(({ text }) => text)).toEqual([
      'outletTemperature <= 50 degC',
      'motorLoad <= 90 %',
      'passing(50 um) >= 95 %',
    ]);
    expect(finest.goal?.text).toBe('minimise specificEnergy');
    expect(scenarioOfGrade(scenario, 'fine').goal?.text).toBe('maximise feedRate');
    expect(scenario.spec).toHaveLength(2);
    expect(() => scenarioOfGrade(scenario, 'toString')).toThrow();
  });

  test.each([
    ['standard', '"passing(150 um) >= 95 %"'],
    ['fine', '"passing(90 um) >= 95 %", "x50 >= 20 um"'],
    ['finest', '"passing(50 um) >= 95 %"'],
  ])('%s is what a file of its own gives, its proposed wheel speed too', (name, own) => {
    const open = TEXT.replace(', wheelSpeed: 2000 rpm', '');
    expect(open).not.toBe(TEXT);
    const alone = parse(
      open.replace(BLOCK, '').replace('"motorLoad <= 90 %" ]', `"motorLoad <= 90 %", ${own} ]`),
    );
    const { title: _t, text: _x, ...grade } = scenarioOfGrade(parse(open), name);
    const { title: _u, text: _y, ...single } = alone;
    expect(grade).toEqual(single);
  });

  test('every fault at once, with its line and the remedy', () => {
    const line = TEXT.split('\n').indexOf('grades:') + 1;
    const faults = faultsOf(
      withGrades(`grades:
  coarse: { spec: [ "passing(150 um) < 95" ] }
  fine: { spec: [ "passing(90 um) >= 95 %", "passing(90 um) <= 80 %" ], gaol: maximise feedRate }
  hot: { spec: [ "outletTemperature >= 60 degC" ], goal: maximise feedRat }
  empty: {}
  "a/b": { spec: [ "x50 >= 20 um" ] }
`),
    );
    expect(faults).toEqual([
      `grades.coarse.spec[0] (${line + 1}): has no %; write passing(150 um) < 95 %`,
      `grades.fine.gaol (${line + 2}): unknown key; did you mean goal?`,
      `grades.fine.spec[1] (${line + 2}): contradicts "passing(90 um) >= 95 %": no product meets both; change one of them`,
      `grades.hot.spec[0] (${line + 3}): contradicts "outletTemperature <= 50 degC": no product meets both; change one of them`,
      expect.stringMatching(`^grades.hot.goal \\(${line + 3}\\): .*feedRat`),
      `grades.empty.spec (${line + 4}): is missing or empty; state what makes this grade, e.g. [ "passing(90 um) >= 95 %" ]`,
      `grades.a/b (${line + 5}): a grade's name must be 1 to 40 letters, digits, spaces, hyphens or underscores`,
    ]);
  });

  test('a fault of the common spec is reported once, not once a grade', () => {
    const faults = faultsOf(TEXT.replace('motorLoad <= 90 %', 'motorLoad <= 90'));
    expect(faults).toHaveLength(1);
    expect(faults[0]).toMatch(/^spec\[1\]/);
  });

  test('requirements of two grades do not contradict each other', () => {
    expect(
      faultsOf(
        withGrades(
          'grades:\n  coarse: { spec: [ "passing(90 um) <= 50 %" ] }\n  fine: { spec: [ "passing(90 um) >= 95 %" ] }\n',
        ),
      ),
    ).toEqual([]);
  });

  test('a quantity of the plant needs a plant in a grade too', () => {
    expect(
      faultsOf(withGrades('grades:\n  dry: { spec: [ "productHumidity <= 40 %" ] }\n')).join(),
    ).toContain('needs a plant block');
  });
});
