import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { columnHead } from '../../src/answers/document.ts';
import { forecastSentences } from '../../src/answers/grades/grade-forecast.ts';
import { sweepOfGrade } from '../../src/answers/grades/grade-of-sweep.ts';
import { gradesMade } from '../../src/answers/grades/grade-trials.ts';
import { sweepGrades } from '../../src/answers/grades/sweep-grades.ts';
import { sweepGradesDocument, wheelSentence } from '../../src/answers/grades/sweep-grades-document.ts';
import { standingOf } from '../../src/answers/standing.ts';
import { rowsMeeting } from '../../src/answers/sweep-ranking.ts';
import { sweepSummary } from '../../src/answers/sweep-summary.ts';
import { tableFromStore } from '../../src/answers/table-from-store.ts';
import { InputError } from '../../src/scenario/errors.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { gradeNames, scenarioOfGrade } from '../../src/scenario/scenario-of-grade.ts';
import { studyHash } from '../../src/sweep/store/identity.ts';
import { readPlainData, writePlainData } from '../../src/sweep/store/plain-data.ts';
import { compileStudy } from '../../src/sweep/study/compile.ts';
import type { Study } from '../../src/sweep/study/study.ts';
import { studyOf } from '../../src/sweep/study/study-of.ts';
import type { LoggedTrial } from '../../src/trials/log/logged.ts';
import { gradePlanesFigure } from '../../src/viz/figures/grade-planes.ts';
import { customerGradesReport } from '../../src/viz/report/customer-report.ts';
import { PAGE } from '../../src/viz/theme.ts';
import { wholeText, withoutSamples } from './whole.ts';

const FILE = resolve(import.meta.dirname, '../../scenarios/erythritol-grades.yaml');
const SMALL = [
  'sweep.factors={ wheelSpeed: { from: 1000 rpm, to: 5000 rpm, steps: 4 }, rotorSpeed: { from: 4500 rpm, to: 6500 rpm, steps: 2 } }',
];

/** A sweep as its store hands it over. */
function swept(scenario: Scenario) {
  const study = studyOf(scenario);
  const { size, columns, evaluate } = compileStudy(study);
  const { values } = evaluate({ first: 0, count: size });
  const rows = {
    count: size,
    values: Object.fromEntries(columns.map(({ name }, c) => [name, values.slice(c * size, (c + 1) * size)])),
  };
  return { stored: { study, columns }, rows };
}

const graded = await loadScenario(FILE, { set: SMALL });
const { stored, rows } = swept(graded);
const answer = sweepGrades(stored, rows);
const byName = Object.fromEntries(answer.grades.map((grade) => [grade.name, grade]));

describe('a sweep of several grades', () => {
  test.each(['standard', 'fine', 'finest'])(
    'rows, margins and verdicts of %s are those of a sweep of its own',
    (name) => {
      const own = sweepOfGrade(stored, name);
      const alone = swept(scenarioOfGrade(graded, name));
      const { factors } = stored.study.plan;
      const cut = tableFromStore(own.study.scenario, factors, own.columns, rows);
      const single = tableFromStore(alone.stored.study.scenario, factors, alone.stored.columns, alone.rows);
      expect(own.study.scenario).toEqual(alone.stored.study.scenario);
      expect(cut.limits).toEqual(single.limits);
      expect(cut.meets).toEqual(single.meets);
      expect(rowsMeeting(cut).length).toBeGreaterThan(0);
    },
  );

  test('a stored study keeps the order of its grades, and a goal decides no row', async () => {
    const back = readPlainData(writePlainData(stored.study)) as Study;
    expect(gradeNames(back.scenario)).toEqual(['standard', 'fine', 'finest']);
    expect(compileStudy(back).columns).toEqual(stored.columns);
    expect(studyHash(back, '1')).toBe(studyHash(stored.study, '1'));
    const goal = studyOf(
      await loadScenario(FILE, { set: [...SMALL, 'grades.fine.goal=minimise specificEnergy'] }),
    );
    expect(studyHash(goal, '1')).toBe(studyHash(stored.study, '1'));
    const other = studyOf(
      await loadScenario(FILE, { set: [...SMALL, 'grades.fine.spec=[ "passing(95 um) >= 95 %" ]'] }),
    );
    expect(studyHash(other, '1')).not.toBe(studyHash(stored.study, '1'));
  });

  test('where the wheel speed is open and not swept, each grade would need a sweep of its own', () => {
    const open = { ...graded, grades: { ...graded.grades } } as Scenario;
    const speed = { speed: graded.settings.wheelSpeed } as never;
    const fine = { ...graded.grades!.fine!, wheelSpeed: speed };
    const { factors } = graded.sweep!;
    const sweep = { ...graded.sweep!, factors: factors.filter(({ path }) => path !== 'wheelSpeed') };
    const with_ = { ...open, grades: { ...graded.grades, fine } };
    expect(() => studyOf({ ...with_, sweep })).toThrow(InputError);
    expect(studyOf(with_).quantities.length).toBeGreaterThan(0);
  });
});

describe('the report of all grades', () => {
  test('says every word and number as it was read', async () => {
    const whole = wholeText(sweepGradesDocument(answer, [], 'engineer', 'out/x'));
    await expect(withoutSamples(whole)).toMatchFileSnapshot('expected/grades-sweep.txt');
  });
  test('names for each grade settings that meet it, with the numbers a run gives', () => {
    const { sections } = sweepGradesDocument(answer, [], 'engineer', 'out/x');
    const table = sections.find(({ id }) => id === 'grades')!.tables![0]!;
    expect(table.rows.map(([name]) => name)).toEqual(['standard', 'fine', 'finest']);
    for (const [k, { best }] of answer.grades.entries()) {
      expect(standingOf(best.scenario).meets).toBe(true);
      expect(Number(table.rows[k]![4])).toBeCloseTo(best.scenario.settings.feedRate * 3600, 0);
    }
  });

  test('a setting said to serve two grades meets both, and is counted among the rows that do', () => {
    for (const { names, points, best } of answer.shared) {
      const [a, b] = names.map((name) => byName[name]!.table.meets!);
      expect(points).toBe(Array.from(a!).filter((met, row) => met === 1 && b![row] === 1).length);
      if (!best) continue;
      for (const name of names)
        expect(standingOf({ ...best.scenario, spec: scenarioOfGrade(graded, name).spec }).meets).toBe(true);
    }
    expect(answer.shared.map(({ names }) => names.join('+'))).toEqual([
      'standard+fine',
      'standard+finest',
      'fine+finest',
    ]);
  });

  test('sweep --json says of each grade what report --json says', () => {
    const { grades } = sweepSummary({ ...stored, size: rows.count }, rows) as {
      grades: Record<string, Record<string, unknown>>;
    };
    expect(Object.keys(grades)).toEqual(['standard', 'fine', 'finest']);
    expect(grades.fine!.meeting).toBe(rowsMeeting(byName.fine!.table).length);
    expect(grades.fine!.title).toContain(': fine');
  });

  test('a customer gets no scenario, no order and no other settings', () => {
    const { sections, notes } = sweepGradesDocument(answer, [], 'customer', 'out/x');
    expect(sections.map(({ id }) => id)).toEqual(['grades', 'window', 'forecast', 'limits']);
    expect(notes).toEqual([]);
  });

  test('one wheel for all and what it costs, by hand', () => {
    const grades = [{ name: 'coarse' }, { name: 'fine' }];
    expect(
      wheelSentence(
        [
          { wheel: 'short', feed: [400, 100] },
          { wheel: 'long', feed: [200, 200] },
        ],
        grades,
      ),
    ).toBe(
      'The long wheel serves all grades; against the best wheel of each it costs 200 kg/h of coarse, by the feed rates swept.',
    );
    expect(
      wheelSentence(
        [
          { wheel: 'short', feed: [400, undefined] },
          { wheel: 'long', feed: [undefined, undefined] },
        ],
        grades,
      ),
    ).toBe(
      'The short wheel serves 1 of 2 grades; no other wheel feeds more of any of these, by the feed rates swept.',
    );
  });
});

describe('a customer who ordered several grades', () => {
  const job = { objective: 'Three grades of one lot', conclusion: 'Two are made.', operator: 'A. Miller' };
  const scenario = { ...graded, job };
  const page = (operator: boolean) =>
    customerGradesReport(
      { scenario, trials: [], operator },
      sweepGradesDocument(answer, [], 'customer', 'out/x'),
      { version: 'of a test', date: '2026-01-01' },
    ).body.text;

  test('gets each grade required and answered, in the document of one product', () => {
    const text = page(false);
    for (const id of [
      'objective',
      'result',
      'conclusion',
      'material',
      'equipment',
      'grades',
      'window',
      'cautions',
    ])
      expect(text).toContain(`<section id="${id}">`);
    for (const name of gradeNames(graded)) expect(text).toContain(`Required of ${name}: `);
    expect(text).toContain('Three grades of one lot');
  });

  test('sees no coefficient, no file and no operator unless chosen', () => {
    const text = page(false);
    expect(text).not.toMatch(/friability|finesScale|grindloop report|A\. Miller/);
    expect(page(true)).toContain('A. Miller');
  });
});

describe('what the forecasts rely on', () => {
  const at = (calibration?: unknown) =>
    answer.grades.map(({ point }) => ({
      ...point,
      scenario: { ...point.scenario, ...(calibration ? { calibration } : {}) },
    })) as never as Parameters<typeof forecastSentences>[0];
  const covered = (rim: readonly [number, number]) => ({
    trials: ['A'],
    of: {
      materials: ['erythritol'],
      machine: graded.machine.name,
      wheels: Object.keys(graded.machine.wheels),
      covered: { rotorTip: [1, 999], wheelRim: rim, feedRate: [0, 9], airFlow: [0, 9] },
    },
  });

  test('without a calibration no trial; with one, which grade lies beyond the settings tried', () => {
    expect(forecastSentences(at())).toEqual([
      'No trial is in these forecasts: the bands are those of assumed coefficients, the same for every grade.',
    ]);
    expect(forecastSentences(at(covered([0, 999])))).toEqual([
      'One calibration serves all grades: the trials of one narrow the bands of the others.',
      'The settings of every grade lie within those of the trials.',
    ]);
    const rims = answer.grades.map(
      ({ point }) =>
        (point.outcome as never as { wheel: { rimSpeed_m_per_s: number } }).wheel.rimSpeed_m_per_s,
    );
    const [slowest, fastest] = [Math.min(...rims), Math.max(...rims)];
    const beyond = forecastSentences(at(covered([0, (slowest + fastest) / 2])));
    const name = answer.grades[rims.indexOf(fastest)]!.name;
    expect(
      beyond.some((line) => line.startsWith(`${name} was not run yet at such settings: wheel rim speed`)),
    ).toBe(true);
    const slow = answer.grades[rims.indexOf(slowest)]!.name;
    expect(beyond.some((line) => line.startsWith(`${slow} was not run`))).toBe(false);
  });
});

describe('all grades on one plane', () => {
  const planes = answer.planes!;

  test('every grade is drawn on every plane, and a point is inside its region where the model says it meets', () => {
    for (const { regions, marks, ...plane } of planes.planes) {
      expect(regions.map(({ grade }) => grade)).toEqual(['standard', 'fine', 'finest']);
      for (const { grade, x, y } of marks) {
        const { meeting } = regions.find((region) => region.grade === grade)!;
        // a little inward, as the settings may lie on the rim
        expect(isInside(meeting, inward(x, plane.x), inward(y, plane.y)), grade).toBe(true);
      }
    }
    expect(planes.planes.flatMap(({ marks }) => marks.map(({ grade }) => grade)).sort()).toEqual([
      'fine',
      'finest',
      'standard',
    ]);
  });

  test('an overlap is no larger than either region, and what is not shared limits a grade alone', () => {
    for (const { regions, overlaps } of planes.planes)
      for (const { grades, share } of overlaps)
        for (const name of grades)
          expect(share).toBeLessThanOrEqual(regions.find(({ grade }) => grade === name)!.share + 1e-9);
    expect(planes.shared).toContain('motorLoad <= 90 %');
    expect(planes.shared).not.toContain('passing(50 um) >= 95 %');
  });

  test.each([760, 358])('regions are outlined, named and told apart without colour, %d px wide', (width) => {
    const { data, layout, table } = gradePlanesFigure.draw(planes, { width, theme: PAGE });
    const outlines = data.filter(
      (trace) =>
        trace.kind === 'line' && trace.axes === 1 && trace.stroke && gradeNames(graded).includes(trace.name),
    );
    const dashes = outlines.map((trace) => (trace.kind === 'line' ? (trace.stroke!.dash ?? 'full') : ''));
    expect(new Set(dashes).size).toBe(dashes.length);
    for (const { name } of outlines)
      expect(
        layout.notes.some(({ text, axes }) => axes === 1 && text.startsWith(name)),
        name,
      ).toBe(true);
    const { regions } = planes.planes[0]!;
    expect(Number(table.rows[0]![2])).toBeCloseTo(100 * regions[0]!.share, 0);
  });
});

describe('which grade a run made', () => {
  test('by measurement alone: met, missed, or met as far as measured', () => {
    const trial = (name: string, at90: number, temperature?: number): LoggedTrial =>
      ({
        name,
        scenario: graded,
        flags: [],
        sizes: {
          points: [
            { size: 20e-6, undersize: 0.3 },
            { size: 50e-6, undersize: at90 - 0.2 },
            { size: 90e-6, undersize: at90 },
            { size: 150e-6, undersize: 0.99 },
          ],
        },
        power: { value: 5000, error: 0.03 },
        ...(temperature === undefined ? {} : { outletTemperature: temperature }),
      }) as never;
    const table = gradesMade(graded, [trial('A', 0.97, 305), trial('B', 0.9, 305), trial('C', 0.97)]);
    expect(table.columns.map(columnHead)).toEqual(['run', 'standard', 'fine', 'finest']);
    expect(table.rows).toEqual([
      ['A', 'yes', 'yes', { text: 'no: 77 % for "95 % below 50 µm"', fails: true }],
      [
        'B',
        'yes',
        { text: 'no: 90 % for "95 % below 90 µm"', fails: true },
        { text: 'no: 70 % for "95 % below 50 µm"', fails: true },
      ],
      [
        'C',
        'as far as measured',
        'as far as measured',
        { text: 'no: 77 % for "95 % below 50 µm"', fails: true },
      ],
    ]);
  });
});

function inward(value: number, [low, high]: readonly [number, number]): number {
  return value + 0.02 * ((low + high) / 2 - value);
}

type Loop = { readonly x: readonly number[]; readonly y: readonly number[] };

function isInside(loops: readonly Loop[], x: number, y: number): boolean {
  let inside = false;
  for (const { x: xs, y: ys } of loops)
    for (let i = 0, j = xs.length - 1; i < xs.length; j = i++)
      if (ys[i]! > y !== ys[j]! > y && x < ((xs[j]! - xs[i]!) * (y - ys[i]!)) / (ys[j]! - ys[i]!) + xs[i]!)
        inside = !inside;
  return inside;
}
