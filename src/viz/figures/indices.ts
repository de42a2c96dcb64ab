import { sentence } from '../../answers/text.ts';
import type { Bounded, IndicesInput } from '../../answers/what-matters.ts';
import type { Drawing, Figure, Frame, Layout, LineTrace, Trace } from '../drawing.ts';
import { axis } from '../ticks.ts';
import { textWidth } from './label-placement.ts';
import { onePanel } from './panels.ts';

/** Share of a quantity's variance each factor accounts for. */
export const indicesFigure: Figure<IndicesInput> = { name: 'indices', title: 'Sensitivity indices', draw };

function draw(input: IndicesInput, frame: Frame): Drawing {
  const { theme } = frame;
  const rows = [...input.rows].sort((a, b) => b.total.value - a.total.value);
  const left = Math.min(
    Math.max(40, ...rows.map(({ name }) => textWidth(name, 12.5))) + 14,
    frame.width * 0.5,
  );
  const layout: Layout = {
    width: frame.width,
    height: rows.length * 38 + 74,
    margin: { left, right: 18, top: 20, bottom: 46 },
    panels: [
      onePanel(
        axis('share of the variance, %', 'linear', [0, 1.02], {
          ticks: 5,
          text: (value) => String(Math.round(value * 100)),
        }),
        {
          title: '',
          scale: 'linear',
          range: [rows.length - 0.5, -0.5],
          ticks: rows.map(({ name }, index) => ({ at: index, text: name })),
          grid: false,
        },
      ),
    ],
    notes: [],
    rules: [],
    hover: 'none',
  };
  const bar = (name: string, of: 'first' | 'total', shift: number, look: object): Trace => ({
    kind: 'bar',
    name,
    y: rows.map((_, i) => i + shift),
    from: rows.map(() => 0),
    to: rows.map((row) => row[of].value),
    thickness: 0.3,
    color: theme.series[1]!,
    ...look,
  });
  const bounds = (of: 'first' | 'total', shift: number): LineTrace => ({
    kind: 'line',
    name: `${of} bounds`,
    x: rows.flatMap((row) => [row[of].low, row[of].high, Number.NaN]),
    y: rows.flatMap((_, i) => [i + shift, i + shift, Number.NaN]),
    stroke: { color: theme.ink, width: 1.4 },
    readout: 'none',
  });
  const hatch = { color: theme.series[1]!, background: theme.paper };
  return {
    data: [
      bar('alone', 'first', -0.17, {}),
      bar('with others', 'total', 0.17, { hatch }),
      bounds('first', -0.17),
      bounds('total', 0.17),
    ],
    layout,
    caption: captionOf(input, rows),
    table: {
      heads: [
        'factor',
        'alone, %',
        'alone, 95 % bounds, %',
        'with all it takes part in, %',
        'with others, 95 % bounds, %',
      ],
      rows: rows.map(({ name, first, total }) => [
        name,
        percent(first.value),
        between(first),
        percent(total.value),
        between(total),
      ]),
    },
  };
}

function captionOf({ quantity, notes }: IndicesInput, rows: IndicesInput['rows']): string {
  const first = rows[0];
  const most = first ? ` ${sentence(first.name)} accounts for most of it.` : '';
  return `How much of the variance of ${quantity} over the sweep each factor accounts for, alone (full) and with every interaction it takes part in (hatched); lines are 95 % bounds.${most}${notes.map((note) => ` ${sentence(note)}${/[.!]$/.test(note) ? '' : '.'}`).join('')}`;
}

function percent(value: number): string {
  return String(Math.round(value * 100));
}

function between({ low, high }: Bounded): string {
  return `${percent(low)} to ${percent(high)}`;
}
