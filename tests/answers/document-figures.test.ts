import { expect, test } from 'vitest';
import type { CourseInput } from '../../src/answers/course.ts';
import type { DotsInput } from '../../src/answers/dots.ts';
import { courseFigure } from '../../src/viz/figures/course.ts';
import { dotsFigure } from '../../src/viz/figures/dots.ts';
import { PAGE } from '../../src/viz/theme.ts';

const DOTS: DotsInput = {
  rows: ['a', 'b'],
  panels: [
    {
      measure: { name: 'speed', unit: 'rpm' },
      dots: [
        { value: 1000, low: 800, high: 1300 },
        { value: 2000, low: 1700, high: Number.POSITIVE_INFINITY },
      ],
      fromZero: true,
    },
    { measure: { name: 'power', unit: 'kW' }, dots: [{ value: 1 }, undefined] },
  ],
  caption: 'two rows',
};

test.each([760, 358])('values stand at their place and ranges end where they end, %d px wide', (width) => {
  const { data, layout, table } = dotsFigure.draw(DOTS, { width, theme: PAGE });
  const [band, marks] = data.filter((trace) => 'axes' in trace && trace.axes === 1);
  if (band?.kind !== 'bar' || marks?.kind !== 'line')
    throw new Error('a band and its marks were to be drawn');
  const end = layout.panels[0]!.x.range[1];
  expect(band.from).toEqual([800, 1700]);
  // a range without an end reaches the edge of the panel
  expect(band.to).toEqual([1300, end]);
  expect(Array.from(marks.x)).toEqual([1000, 2000]);
  expect(Array.from(marks.y)).toEqual([0, 1]);
  expect(table.rows).toEqual([
    ['a', '1000 (800 to 1300)', '1'],
    ['b', '2000 (1700 to ∞)', '–'],
  ]);
  expect(
    layout.panels.every(
      ({ left, right, bottom, top }) => left >= 0 && right <= 1.000001 && bottom >= -1e-6 && top <= 1.000001,
    ),
  ).toBe(true);
});

test('a course has a panel for each quantity over one axis, its limit and its moments', () => {
  const input: CourseInput = {
    x: { name: 'time', unit: 'min', values: [0, 5, 10] },
    panels: [
      { measure: { name: 'feed', unit: 'kg/h' }, lines: [{ name: 'feed', y: [100, 100, 100] }] },
      {
        measure: { name: 'temperature', unit: '°C' },
        lines: [{ name: 'air', y: [20, 30, 34] }],
        limit: { at: 36, words: 'steady' },
      },
    ],
    events: [{ at: 4, words: 'sample' }],
    caption: 'a start',
  };
  const { layout, table } = courseFigure.draw(input, { width: 760, theme: PAGE });
  expect(layout.panels).toHaveLength(2);
  expect(layout.rules.filter(({ from, to }) => from[0] === 4 && to[0] === 4)).toHaveLength(2);
  expect(layout.rules.filter(({ from, to }) => from[1] === 36 && to[1] === 36)).toHaveLength(1);
  expect(layout.panels[1]!.y.range[1]).toBeGreaterThan(36);
  expect(table.rows[1]).toEqual(['5', '100', '30']);
});
