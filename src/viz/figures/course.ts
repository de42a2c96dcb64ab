import type { CourseInput, CoursePanel } from '../../answers/course.ts';
import { measureText } from '../../answers/measure.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import type { Axis, Drawing, Figure, Frame, Note, Rule, Trace } from '../drawing.ts';
import { axis, spanOf } from '../ticks.ts';
import { rowsOfPanels } from './panels.ts';

/** How quantities go on together, e.g. with time. */
export const courseFigure: Figure<CourseInput> = { name: 'course', title: 'Course', draw };

/** Rows of the table. */
const ROWS = 24;

function draw(input: CourseInput, frame: Frame): Drawing {
  const { x, panels } = input;
  const range = spanOf(Array.from(x.values), { air: 0 });
  const axes = panels.map((panel, index) => ({
    x: axis(index === panels.length - 1 ? measureText(x) : '', 'linear', range, {
      ticks: frame.width < 460 ? 4 : 7,
    }),
    y: axis(measureText(panel.measure), 'linear', rangeOf(panel), { ticks: 4 }),
  }));
  const layout = rowsOfPanels(axes, {
    columns: 1,
    width: frame.width,
    each: frame.width < 460 ? 110 : 120,
    gap: { x: 0, y: 62 },
    margin: { left: 52, right: 20, top: 34, bottom: 46 },
    hover: 'across',
  });
  return {
    data: panels.flatMap((panel, index) => tracesOf(panel, index + 1, input, frame)),
    layout: { ...layout, notes: notesOf(input, axes, frame), rules: rulesOf(input, axes, frame) },
    caption: input.caption,
    table: tableOf(input),
  };
}

function rangeOf({ lines, limit, fromZero = false }: CoursePanel): [number, number] {
  const values = lines.flatMap(({ y }) => Array.from(y));
  return spanOf([...values, ...(limit ? [limit.at] : [])], { air: 0.12, zero: fromZero });
}

function tracesOf({ lines }: CoursePanel, axes: number, { x }: CourseInput, { theme }: Frame): Trace[] {
  return lines.map(({ name, y }, k) => ({
    kind: 'line',
    name,
    axes,
    x: x.values,
    y,
    stroke: { color: theme.series[k + 1]!, width: 2, ...(k > 0 ? { dash: '7,4' } : {}) },
  }));
}

function rulesOf(
  { events, panels }: CourseInput,
  axes: readonly { x: Axis; y: Axis }[],
  { theme }: Frame,
): Rule[] {
  return panels.flatMap(({ limit }, index) => {
    const { x, y } = axes[index]!;
    const at = index + 1;
    return [
      ...events.map(
        (event): Rule => ({
          axes: at,
          from: [event.at, y.range[0]],
          to: [event.at, y.range[1]],
          stroke: { color: theme.soft, width: 1, dash: '3,3' },
        }),
      ),
      ...(limit
        ? [
            {
              axes: at,
              from: [x.range[0], limit.at],
              to: [x.range[1], limit.at],
              stroke: { color: theme.ink, width: 1.4, dash: '6,4' },
            } as Rule,
          ]
        : []),
    ];
  });
}

function notesOf(
  { events, panels, x }: CourseInput,
  axes: readonly { x: Axis; y: Axis }[],
  { theme }: Frame,
): Note[] {
  const look = { size: 11.5, halo: theme.paper, baseline: 'bottom' } as const;
  const [from, to] = axes[0]!.x.range;
  const aligned = (at: number) => ((at - from) / (to - from) > 0.62 ? 'right' : 'left') as 'left' | 'right';
  const named = panels.flatMap(({ lines, limit }, index): Note[] => [
    ...(lines.length > 1
      ? lines.flatMap(({ name, y }, k): Note[] => {
          const i = Math.floor(x.values.length * (0.3 + 0.25 * k));
          const at = y[i];
          if (at === undefined || !Number.isFinite(at)) return [];
          return [
            {
              ...look,
              text: name,
              x: x.values[i]!,
              y: at,
              axes: index + 1,
              align: 'left',
              shiftY: k === 0 ? -4 : 16,
              color: theme.series[k + 1]!,
            },
          ];
        })
      : []),
    ...(limit
      ? [
          {
            ...look,
            text: limit.words,
            x: to,
            y: limit.at,
            axes: index + 1,
            align: 'right',
            shiftX: -4,
            shiftY: -2,
            color: theme.ink,
          } as Note,
        ]
      : []),
  ]);
  // words of moments stand in the first panel, each in a line of its own where they would meet
  const moments = events.map((event, k): Note => {
    const align = aligned(event.at);
    return {
      ...look,
      text: event.words,
      x: event.at,
      y: axes[0]!.y.range[0],
      axes: 1,
      align,
      shiftX: align === 'left' ? 4 : -4,
      shiftY: -4 - 14 * (k % 3),
      color: theme.soft,
    };
  });
  return [...named, ...moments];
}

function tableOf({ x, panels }: CourseInput): Drawing['table'] {
  const count = x.values.length;
  const every = Math.max(1, Math.ceil(count / ROWS));
  const heads = panels.flatMap(({ measure, lines }) =>
    lines.map(({ name }) => (lines.length > 1 ? `${measureText(measure)} (${name})` : measureText(measure))),
  );
  const all = panels.flatMap(({ lines }) => lines);
  const rows: string[][] = [];
  for (let i = 0; i < count; i++) {
    if (i % every !== 0 && i !== count - 1) continue;
    rows.push([formatNumber(x.values[i]!, 3), ...all.map(({ y }) => formatNumber(y[i]!, 3))]);
  }
  return { heads: [measureText(x), ...heads], rows };
}
