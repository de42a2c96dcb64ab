import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { changedScenario } from '../../src/answers/change.ts';
import { typedSetting } from '../../src/answers/find/find-words.ts';
import { pointView } from '../../src/answers/point-view.ts';
import { asInFile, recommend } from '../../src/answers/recommend.ts';
import { answerOf } from '../../src/answers/report-answer.ts';
import { runAnswer, runJson } from '../../src/answers/run-text.ts';
import { standingOf } from '../../src/answers/standing.ts';
import { changesOf, rowsMeeting } from '../../src/answers/sweep-ranking.ts';
import { type SweepTable, tableGrid } from '../../src/answers/sweep-table.ts';
import { tableFromStore } from '../../src/answers/table-from-store.ts';
import { tableVerdict } from '../../src/answers/table-verdict.ts';
import { toCase } from '../../src/scenario/operating-point.ts';
import { outcomeOf } from '../../src/scenario/outcome/outcome.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { findSettings } from '../../src/search/find/find.ts';
import type { Effort } from '../../src/search/find/optimise.ts';
import { type SearchSpace, searchSpace } from '../../src/search/find/space.ts';
import { compileStudy } from '../../src/sweep/study/compile.ts';
import { studyOf } from '../../src/sweep/study/study-of.ts';
import { demo, requiring, wordsOfVerdict } from './cases.ts';

const SWEEP = [
  'sweep.factors.rotorSpeed={ from: 4500 rpm, to: 7000 rpm, steps: 4 }',
  'sweep.factors.wheelSpeed={ from: 1200 rpm, to: 3600 rpm, steps: 5 }',
  'sweep.factors.wheel=[ medium-radial, medium-leaning ]',
  'sweep.factors.feedRate={ from: 150 kg/h, to: 600 kg/h, steps: 4 }',
];
const LIGHT: Effort = { points: 64, population: 16, generations: 12, starts: 1, polls: 12 };

/** A sweep as its store hands it over. */
function swept(scenario: Scenario): SweepTable {
  const study = studyOf(scenario);
  const { size, columns, evaluate } = compileStudy(study);
  const { values } = evaluate({ first: 0, count: size });
  const rows = {
    count: size,
    values: Object.fromEntries(columns.map(({ name }, c) => [name, values.slice(c * size, (c + 1) * size)])),
  };
  return tableFromStore(scenario, study.plan.factors, columns, rows);
}

/** Specs with both wordings of a share, two-sided sizes, heat, power, and requirements on the feed itself. */
const spec = fc
  .record({
    top: fc.integer({ min: 45, max: 120 }),
    fine: fc.integer({ min: 80, max: 98 }),
    coarser: fc.boolean(),
    bottom: fc.integer({ min: 4, max: 14 }),
    fines: fc.integer({ min: 10, max: 40 }),
    feed: fc.integer({ min: 0, max: 600 }),
    strict: fc.boolean(),
    load: fc.integer({ min: 40, max: 120 }),
  })
  .map(({ top, fine, coarser, bottom, fines, feed, strict, load }) => [
    coarser ? `oversize(${top} um) <= ${100 - fine} %` : `passing(${top} um) >= ${fine} %`,
    `passing(${bottom} um) <= ${fines} %`,
    `motorLoad <= ${Math.min(load, 100)} %`,
    ...(feed >= 150 ? [`feedRate ${strict ? '>' : '>='} ${feed} kg/h`] : []),
  ]);

describe('sweep, find, report and page say the same of one file', () => {
  test('how many points meet the spec, which, and whether the point named does', async () => {
    const base = await demo(...SWEEP);
    fc.assert(
      fc.property(spec, (texts) => {
        const scenario = requiring(base, ...texts);
        const { factors } = scenario.sweep!;
        const table = swept(scenario);
        const rows = rowsMeeting(table);
        // each row that counts meets the spec when run by itself, and the others do not
        const meeting = new Set(rows);
        for (let row = 0; row < table.points; row += 7) {
          const there = changedScenario(scenario, changesOf(factors, table, row));
          expect(standingOf(there).meets, `row ${row} of ${texts.join(', ')}`).toBe(meeting.has(row));
          const view = pointView(there);
          expect(view.verdict.startsWith('it meets the whole spec')).toBe(meeting.has(row));
        }
        // the report names a point that meets the spec where the sweep has one
        const best = recommend(scenario, factors, table);
        const answer = answerOf(best, scenario);
        expect(best.meeting).toBe(rows.length);
        expect(best.kind).toBe(rows.length > 0 ? 'first' : 'nearest');
        expect(answer.verdict!.meets).toBe(rows.length > 0);
        expect(answer.sentence.startsWith('run ')).toBe(rows.length > 0);
        // the page and the command line say the same of the point named
        const alone = answerOf(asInFile(best.scenario), best.scenario);
        expect(alone.verdict).toEqual(answer.verdict);
        const { verdict } = JSON.parse(runJson(runAnswer(best.scenario)));
        expect(verdict).toEqual(JSON.parse(JSON.stringify(answer.verdict)));
        expect(pointView(best.scenario).verdict).toBe(wordsOfVerdict(verdict));
        const grid = tableGrid(table)!;
        for (const row of rows.slice(0, 5)) {
          const at = Object.fromEntries(
            table.factors.map(({ path, names, values }) => [
              path,
              names ? names[values[row]!]! : values[row]!,
            ]),
          );
          expect(tableVerdict(table, grid, at)).toBe('meets the whole spec.');
        }
        // a search over the same ranges finds a point wherever the sweep has one
        if (rows.length > 0) {
          const found = findSettings(scenario, searchSpace(scenario) as SearchSpace, { effort: LIGHT });
          expect(found.meets, texts.join(', ')).toBe(true);
        }
      }),
      { seed: 5, numRuns: 8 },
    );
  }, 240_000);

  test('a requirement on the feed that a tenth of margin would break: the report keeps it', async () => {
    const base = await demo(...SWEEP);
    const table = swept(base);
    const most = Math.max(...rowsMeeting(table).map((row) => table.factors.at(-1)!.values[row]!));
    const scenario = requiring(base, ...base.spec.map(({ text }) => text), `feedRate >= ${most} kg/h`);
    const best = recommend(scenario, scenario.sweep!.factors, swept(scenario));
    const answer = answerOf(best, scenario);
    expect(best.kind).toBe('first');
    expect(answer.verdict).toMatchObject({ meets: true, fails: [] });
    expect(best.scenario.settings.feedRate * 3600).toBeGreaterThanOrEqual(most - 1e-9);
    expect(answer.sentence).not.toContain('no point of the sweep');
  }, 120_000);

  test('every point chokes: said once, with the feed that would run', async () => {
    const scenario = await demo(
      ...SWEEP.slice(0, 3),
      'sweep.factors.feedRate={ from: 9000 kg/h, to: 12000 kg/h, steps: 2 }',
    );
    const best = recommend(scenario, scenario.sweep!.factors, swept(scenario));
    const { sentence, verdict } = answerOf(best, scenario);
    expect(sentence).toMatch(
      /^every point of the sweep chokes; the nearest to running is .*: the mill chokes \(.*\); at these settings it runs up to about \d+ kg\/h; /,
    );
    expect(verdict).toMatchObject({ meets: false, nearest: null });
  }, 60_000);

  test('no spec: nothing is recommended', async () => {
    const base = await demo(...SWEEP);
    const scenario = requiring(base);
    const best = recommend(scenario, scenario.sweep!.factors, swept(scenario));
    expect(best.kind).toBe('file');
    const { sentence, verdict, meets } = answerOf(best, scenario);
    expect([verdict, meets]).toEqual([null, false]);
    expect(sentence).not.toMatch(/^run |meets|recommend/);
  }, 60_000);

  test('the point a search names, typed back as run --set takes it, gives the numbers said', async () => {
    const scenario = await demo(...SWEEP);
    const found = findSettings(scenario, searchSpace(scenario) as SearchSpace, { effort: LIGHT });
    const again = await demo(...SWEEP, ...found.best.settings.map(typedSetting));
    const outcome = outcomeOf(again, solvePoint(toCase(again)));
    found.best.outcome.spec.forEach(({ value, met }, k) => {
      expect(outcome.spec[k]!.value / value).toBeCloseTo(1, 9);
      expect(outcome.spec[k]!.met).toBe(met);
    });
  }, 60_000);
});
