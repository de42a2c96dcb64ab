import { expect, test } from 'vitest';
import type { DotsInput } from '../../src/answers/dots.ts';
import type { FindAnswer } from '../../src/answers/find/find-answer.ts';
import { choiceFigure, choiceTable, specTable } from '../../src/answers/find/find-tables.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import type { FoundPoint } from '../../src/search/find/find.ts';

const SCENARIO = {
  spec: [{ text: 'x50 >= 20 um', shownIn: 'um' }],
  goal: { text: 'maximise feedRate', expression: { kind: 'quantity', name: 'feedRate' } },
} as unknown as Scenario;
const point = (wheel: string, feed: number, met = true) =>
  ({
    settings: [
      { path: 'wheel', value: wheel, shownIn: '1' },
      { path: 'feedRate', value: feed / 3600, shownIn: 'kg/h' },
    ],
    goal: feed / 3600,
    merit: { violation: met ? 0 : 0.2, goal: feed / 3600 },
    outcome: {
      spec: [{ text: 'x50 >= 20 um', value: met ? 24 : 19, margin: met ? 4 : -1, met, probability: null }],
    },
  }) as unknown as FoundPoint;
const answer = (likeliest: boolean) =>
  ({
    scenario: SCENARIO,
    nominal: { byChoice: [point('tall', 500), point('short', 300, false)] },
    ...(likeliest
      ? { likeliest: { byChoice: [{ point: point('tall', 120), chances: { whole: 0.453 } }] } }
      : {}),
  }) as unknown as FindAnswer;

test('a requirement that is missed has its cell marked, and its probability where there is one', () => {
  expect(specTable(SCENARIO, point('tall', 500, false), [0.623])).toEqual([
    {
      columns: [
        { name: 'required' },
        { name: 'value' },
        { name: 'margin' },
        { name: 'met' },
        { name: 'probability' },
      ],
      rows: [['x50 >= 20 um', { text: '19 µm', fails: true }, '-1 µm', 'NO', '62.3 %']],
    },
  ]);
});

test('a point that chokes has a dash for every value', () => {
  const spec = [
    { text: 'x50 >= 20 um', value: Number.NaN, margin: Number.NaN, met: false, probability: null },
  ];
  const choked = { ...point('tall', 500, false), outcome: { spec } } as unknown as FoundPoint;
  expect(specTable(SCENARIO, choked, [0.08])[0]!.rows).toEqual([
    ['x50 >= 20 um', { text: '–', fails: true }, '–', 'NO', '8 %'],
  ]);
});

test('every choice has its best goal, and where its probability is highest', () => {
  expect(choiceTable(answer(true)).rows).toEqual([
    ['tall', 'yes', '500 kg/h', 'feedRate 500 kg/h', '45 %', 'feedRate 120 kg/h'],
    ['short', 'no', '300 kg/h', 'feedRate 300 kg/h', '–', '–'],
  ]);
  expect(choiceTable(answer(false)).rows[0]).toEqual(['tall', 'yes', '500 kg/h', 'feedRate 500 kg/h']);
});

test('the figure draws no goal of a choice that misses the spec', () => {
  const [figure] = choiceFigure(answer(true));
  const { rows, panels } = figure!.data as DotsInput;
  expect(rows).toEqual(['tall', 'short']);
  expect(panels[0]!.dots).toEqual([{ value: expect.closeTo(500, 9) }, undefined]);
  expect(panels[1]!.dots).toEqual([{ value: expect.closeTo(45.3, 9) }, undefined]);
});
