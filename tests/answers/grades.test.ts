import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { documentJson } from '../../src/answers/document-json.ts';
import { findAnswer, searchable } from '../../src/answers/find/find-answer.ts';
import { findKeys } from '../../src/answers/find/find-keys.ts';
import { probabilityOf } from '../../src/answers/grades/grade-point.ts';
import { gradesAnswer } from '../../src/answers/grades/grades-answer.ts';
import { gradesAtPoint } from '../../src/answers/grades/grades-at-point.ts';
import { gradesDocument, wheelSentences } from '../../src/answers/grades/grades-document.ts';
import { wheelSets } from '../../src/answers/grades/wheels-for-grades.ts';
import { oddsOf } from '../../src/answers/odds.ts';
import { standingOf } from '../../src/answers/standing.ts';
import { filesBeside, loadScenario } from '../../src/scenario/load.ts';
import { parseScenario } from '../../src/scenario/parse.ts';
import { scenarioOfGrade } from '../../src/scenario/scenario-of-grade.ts';

const FILE = resolve(import.meta.dirname, '../../scenarios/erythritol-grades.yaml');
// two wheels and two numbers keep the searches short
const FACTORS =
  'sweep.factors={ wheelSpeed: { from: 600 rpm, to: 5000 rpm, steps: 5 }, wheel: [ medium-radial, long-leaning ], feedRate: { from: 100 kg/h, to: 900 kg/h, steps: 5 } }';
const OWN: Readonly<Record<string, string>> = {
  standard: '"passing(150 um) >= 95 %"',
  fine: '"passing(90 um) >= 95 %", "x50 >= 20 um"',
  finest: '"passing(50 um) >= 95 %"',
};

const graded = await loadScenario(FILE, { set: [FACTORS] });
const answer = gradesAnswer(graded, 1, undefined);
const byName = Object.fromEntries(answer.grades.map((grade) => [grade.name, grade]));

describe('find over grades', () => {
  test.each(Object.keys(OWN))('%s is answered as a file of its own', (name) => {
    const text = readFileSync(FILE, 'utf8')
      .replace(/grades:\n( .*\n)+/, '')
      .replace('"motorLoad <= 90 %" ]', `"motorLoad <= 90 %", ${OWN[name]} ]`);
    const single = parseScenario(text, { ...filesBeside(FILE), set: [FACTORS] });
    const alone = findAnswer(searchable(single, false), 1, undefined);
    expect(findKeys(byName[name]!.answer)).toEqual(findKeys(alone));
  });

  test('the table of grades gives what a run of each names', () => {
    const { sections } = gradesDocument(answer);
    const rows = sections.find(({ id }) => id === 'grades')!.tables![0]!.rows;
    expect(rows.map(([name]) => name)).toEqual(['standard', 'fine', 'finest']);
    answer.grades.forEach(({ answer: { named } }, k) => {
      const { energy, air, settings } = named.outcome as never as Record<string, Record<string, number>>;
      const [, wheel, , , feed, kWh, outlet] = rows[k]!.map(String) as string[];
      expect(wheel).toBe(named.scenario.settings.wheel);
      expect(Number(feed) / settings!.feedRate_kg_per_h!).toBeCloseTo(1, 2);
      expect(Number(kWh) / energy!.specific_kWh_per_t!).toBeCloseTo(1, 2);
      expect(Number(outlet) / air!.outletTemperature_C!).toBeCloseTo(1, 2);
      expect(Number(rows[k]![7])).toBeCloseTo(100 * probabilityOf(answer.grades[k]!.answer), 0);
    });
  });

  test('settings said to serve two grades meet both, and cost what the difference of the rates is', () => {
    expect(answer.shared.map(({ names }) => names.join('+'))).toEqual([
      'standard+fine',
      'standard+finest',
      'fine+finest',
    ]);
    for (const { names, point, lost } of answer.shared) {
      if (!point) continue;
      names.forEach((name, k) => {
        const grade = scenarioOfGrade(graded, name);
        expect(standingOf({ ...point.scenario, spec: grade.spec }).meets, names.join()).toBe(true);
        const own = byName[name]!.answer.nominal.best.scenario.settings.feedRate;
        expect(lost[k]).toBeCloseTo(own - point.scenario.settings.feedRate, 12);
      });
    }
    for (const { point, probability } of answer.shared) {
      if (!point) continue;
      const { meets, samples } = oddsOf(point.scenario);
      expect(probability).toBe(meets.filter(Boolean).length / samples);
    }
    expect(answer.shared.some(({ point }) => point !== undefined)).toBe(true);
  });

  test('what one more wheel is worth follows from the feed rates', () => {
    const { single } = answer.wheels;
    expect(single.map(({ wheels }) => wheels[0]).sort()).toEqual(['long-leaning', 'medium-radial']);
    for (const { points, time } of single) {
      const hours = points.reduce(
        (sum, point) => sum + (point ? 100 / (3600 * point.scenario.settings.feedRate) : 0),
        0,
      );
      expect(time / 3600).toBeCloseTo(hours, 10);
    }
  });

  test('the document is written as JSON with the keys of every grade', () => {
    const written = JSON.parse(documentJson(gradesDocument(answer)));
    expect(Object.keys(written.grades)).toEqual(['standard', 'fine', 'finest']);
    expect(written.grades.fine.settings.feedRate_kg_per_h).toBeGreaterThan(0);
  });
});

describe('wheels over grades, by hand', () => {
  // feed rates [kg/h]; 0 where the wheel misses the grade
  const found = (name: string, rates: Readonly<Record<string, number>>) => {
    const points = Object.entries(rates).map(([wheel, feed]) => ({
      scenario: { settings: { wheel, feedRate: feed / 3600 } },
      merit: { violation: feed > 0 ? 0 : 1 },
    }));
    const best = points.reduce((a, b) =>
      b.scenario.settings.feedRate > a.scenario.settings.feedRate ? b : a,
    );
    return {
      name,
      answer: { nominal: { byChoice: points, best } },
    } as never as (typeof answer.grades)[number];
  };
  const words = (...grades: (typeof answer.grades)[number][]) =>
    wheelSentences({ ...answer, grades, wheels: wheelSets(grades) });

  test('one serves all at a cost, a second saves time', () => {
    // short: 100/400 + 100/100 = 1.25 h; long: 100/200 + 100/200 = 1 h; both: 0.25 + 0.5 = 0.75 h
    expect(
      words(found('coarse', { short: 400, long: 200 }), found('fine', { short: 100, long: 200 })),
    ).toEqual([
      'The long wheel serves all grades; it costs 200 kg/h of coarse against the best wheel of each.',
      'The short wheel as well saves 15 min on 100 kg of each grade; it is worth its changes where these take less.',
    ]);
  });

  test('none serves all: the second serves the rest', () => {
    expect(words(found('coarse', { short: 400, long: 0 }), found('fine', { short: 0, long: 200 }))).toEqual([
      'No wheel serves all grades; short serves 1 of 2; it costs no feed rate against the best wheel of each.',
      'With the long wheel as well, 2 grades are served.',
    ]);
  });

  test('another wheel brings nothing', () => {
    expect(
      words(found('coarse', { short: 400, long: 300 }), found('fine', { short: 200, long: 100 })),
    ).toEqual([
      'The short wheel serves all grades; it costs no feed rate against the best wheel of each.',
      'Another wheel is worth nothing here: it saves no time and serves no other grade.',
    ]);
  });
});

test('run holds each grade against the same point', async () => {
  const scenario = await loadScenario(FILE);
  const judged = gradesAtPoint(scenario);
  expect(judged.map(({ name, verdict }) => [name, verdict.meets])).toEqual([
    ['standard', true],
    ['fine', true],
    ['finest', false],
  ]);
  expect(judged[2]!.verdict.fails.map(({ text }) => text)).toEqual(['passing(50 um) >= 95 %']);
});
