import type { Dot, DotsInput, DotsPanel } from '../../answers/dots.ts';
import { measureText } from '../../answers/measure.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import type { Axis, Drawing, Figure, Frame, Layout, Note, Rule, Trace } from '../drawing.ts';
import { axis, spanOf } from '../ticks.ts';
import { textWidth } from './label-placement.ts';
import { spread } from './panels.ts';

/** Values of rows as dots, each with the range it may lie in. */
export const dotsFigure: Figure<DotsInput> = { name: 'dots', title: 'Values with their ranges', draw };

const ROW = 28;
const NAME_SIZE = 12.5;
const WORDS_SIZE = 11;
/** Width from which panels stand side by side [px]. */
const SIDE_BY_SIDE = 560;
const MOST_ACROSS = 3;

function draw(input: DotsInput, frame: Frame): Drawing {
  const { rows, panels } = input;
  const across = frame.width < SIDE_BY_SIDE ? 1 : Math.min(MOST_ACROSS, panels.length);
  const down = Math.ceil(panels.length / across);
  const each = rows.length * ROW + 14;
  const gap = { x: 44, y: 86 };
  const longest = Math.max(40, ...rows.map((name) => textWidth(name, NAME_SIZE)));
  const margin = { left: Math.min(longest + 14, frame.width * 0.42), right: 26, top: 20, bottom: 48 };
  const inner = {
    x: frame.width - margin.left - margin.right,
    y: down * each + (down - 1) * gap.y,
  };
  const axes = panels.map((panel, index) => ({
    x: axis(measureText(panel.measure), panel.scale ?? 'linear', rangeOf(panel), {
      ticks: across > 1 || frame.width < SIDE_BY_SIDE ? 3 : 6,
    }),
    y: rowAxis(rows, index % across === 0),
  }));
  const layout: Layout = {
    width: frame.width,
    height: inner.y + margin.top + margin.bottom,
    margin,
    panels: spread(axes, across, { x: gap.x / inner.x, y: gap.y / inner.y }),
    notes: panels.flatMap((panel, index) => notesOf(panel, index + 1, axes[index]!.x, frame)),
    rules: panels.flatMap((panel, index) => limitRule(panel, index + 1, rows.length, frame)),
    hover: 'none',
  };
  return {
    data: panels.flatMap((panel, index) => tracesOf(panel, index + 1, axes[index]!.x, input, frame)),
    layout,
    caption: input.caption,
    table: tableOf(input),
  };
}

function rowAxis(rows: readonly string[], named: boolean): Axis {
  const ticks = rows.map((name, at) => ({ at, text: named ? name : '' }));
  return { title: '', scale: 'linear', range: [rows.length - 0.5, -0.5], ticks, grid: true };
}

function rangeOf({
  dots,
  others = [],
  limit,
  fromZero = false,
  scale = 'linear',
}: DotsPanel): [number, number] {
  const values = [...dots, ...others].flatMap((dot) =>
    dot ? [dot.value, dot.low ?? dot.value, dot.high ?? dot.value] : [],
  );
  const range = spanOf([...values, ...(limit ? [limit.at] : [])], { air: 0.14, zero: fromZero, scale });
  // a little more to the right, where the numbers stand
  return scale === 'log' ? [range[0], range[1] * 1.1] : [range[0], range[1] + 0.12 * (range[1] - range[0])];
}

function tracesOf(panel: DotsPanel, axes: number, x: Axis, { joined }: DotsInput, { theme }: Frame): Trace[] {
  const [least, most] = x.range;
  const band = (dots: DotsPanel['dots'], shift: number): Trace => {
    const known = dots.flatMap((dot, row) =>
      dot && (dot.low !== undefined || dot.high !== undefined) ? [{ dot, row }] : [],
    );
    return {
      kind: 'bar',
      name: 'range',
      axes,
      y: known.map(({ row }) => row + shift),
      from: known.map(({ dot }) => Math.max(least, dot.low ?? dot.value)),
      to: known.map(({ dot }) => Math.min(most, dot.high ?? dot.value)),
      thickness: 0.3,
      color: theme.band,
    };
  };
  const marks = (dots: DotsPanel['dots'], open: boolean, shift: number): Trace => ({
    kind: 'line',
    name: open ? 'other' : 'value',
    axes,
    x: dots.map((dot) => dot?.value ?? Number.NaN),
    y: dots.map((_, row) => row + shift),
    ...(joined && !open ? { stroke: { color: theme.series[1]!, width: 1.8 } } : {}),
    marker: {
      symbol: 'circle',
      size: 8,
      color: open ? theme.paper : theme.series[1]!,
      ...(open ? { line: { color: theme.accent, width: 1.8 } } : {}),
    },
    readout: 'none',
  });
  const { dots, others } = panel;
  if (!others) return [band(dots, 0), marks(dots, false, 0)];
  return [band(others, APART), band(dots, -APART), marks(others, true, APART), marks(dots, false, -APART)];
}

/** How far two values of one row stand apart, in rows. */
const APART = 0.17;

function limitRule({ limit }: DotsPanel, axes: number, rows: number, { theme }: Frame): Rule[] {
  if (!limit) return [];
  return [
    {
      axes,
      from: [limit.at, -0.5],
      to: [limit.at, rows - 0.5],
      stroke: { color: theme.ink, width: 1.4, dash: '6,4' },
    },
  ];
}

/** Each value's number right of its range, or left of it where the panel ends. */
function notesOf({ dots, others, limit }: DotsPanel, axes: number, x: Axis, { theme }: Frame): Note[] {
  const [least, most] = x.range;
  const part = (at: number) =>
    x.scale === 'log' ? Math.log(at / least) / Math.log(most / least) : (at - least) / (most - least);
  const numbers = others
    ? []
    : dots.flatMap((dot, row): Note[] => {
        if (!dot || !Number.isFinite(dot.value)) return [];
        const high = Math.min(most, dot.high ?? dot.value);
        const right = part(high) < 0.78;
        const low = Math.max(least, dot.low ?? dot.value);
        return [
          {
            text: dot.words ?? formatNumber(dot.value, 3),
            x: right ? high : low,
            y: row,
            axes,
            align: right ? 'left' : 'right',
            baseline: 'middle',
            shiftX: right ? 8 : -8,
            color: theme.soft,
            size: WORDS_SIZE,
            halo: theme.paper,
          },
        ];
      });
  return limit
    ? [
        ...numbers,
        {
          text: limit.words,
          x: limit.at,
          y: -0.5,
          axes,
          align: part(limit.at) > 0.6 ? 'right' : 'left',
          baseline: 'bottom',
          color: theme.ink,
          size: WORDS_SIZE,
          halo: theme.paper,
        },
      ]
    : numbers;
}

function tableOf({ rows, panels }: DotsInput): Drawing['table'] {
  const text = (dot: Dot | undefined) => {
    if (!dot) return '–';
    const value = formatNumber(dot.value, 3);
    if (dot.low === undefined && dot.high === undefined) return value;
    return `${value} (${formatNumber(dot.low ?? dot.value, 3)} to ${formatNumber(dot.high ?? dot.value, 3)})`;
  };
  return {
    heads: ['', ...panels.map(({ measure }) => measureText(measure))],
    rows: rows.map((name, row) => [
      name,
      ...panels.map(({ dots, others }) =>
        others ? `${text(dots[row])}; ${text(others[row])}` : text(dots[row]),
      ),
    ]),
  };
}
