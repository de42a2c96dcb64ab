import type { ChokeInput } from '../../answers/point-view.ts';
import type { Drawing, Figure, Frame, LineTrace } from '../drawing.ts';
import { axis, spanOf, tickText } from '../ticks.ts';
import { type Curve, PanelSeating, traceOf } from './curves.ts';
import { halfLayout, onePanel } from './panels.ts';

/** How far the mill stands from choking. */
export const chokeFigure: Figure<ChokeInput> = { name: 'choke', title: 'How near to choking', draw };

function draw(input: ChokeInput, frame: Frame): Drawing {
  const { loading, comesBack, runsAt, feedRate, feedAtChoke } = input;
  const { theme } = frame;
  const shown = Array.from(comesBack).filter(Number.isFinite);
  const top = Math.min(2.2, Math.max(1.25, ...shown));
  const [low] = spanOf([...shown, 1], { air: 0.1 });
  const layout = halfLayout(
    frame.width,
    44,
    onePanel(
      axis('circulating solids, kg per kg of air', 'linear', [0, Math.max(...Array.from(loading))], {
        ticks: 5,
      }),
      axis('returned per kg sent round, kg', 'linear', [Math.max(0, low), top], { ticks: 4 }),
    ),
  );
  const curve: Curve = {
    name: 'returned',
    words: '',
    x: loading,
    y: comesBack,
    axes: 1,
    stroke: { color: theme.series[1]!, width: 2.4 },
    readout: Array.from(
      loading,
      (at, i) => `${short(comesBack[i]!)} kg returned per kg sent round at ${short(at)} kg/kg air`,
    ),
  };
  const line: Curve = {
    name: 'even',
    words: 'in balance',
    x: [0, Math.max(...Array.from(loading))],
    y: [1, 1],
    axes: 1,
    stroke: { color: theme.ink, width: 1.2 },
    readout: 'none',
  };
  const seating = new PanelSeating(layout);
  seating.avoid(curve);
  seating.avoid(line);
  const dot: LineTrace[] =
    runsAt === undefined
      ? []
      : [
          {
            kind: 'line',
            name: 'runs here',
            x: [runsAt],
            y: [1],
            marker: {
              symbol: 'circle',
              size: 11,
              color: theme.accent,
              line: { color: theme.paper, width: 2 },
            },
            readout: [`runs at ${short(runsAt)} kg/kg`],
          },
        ];
  if (runsAt !== undefined) seating.keepFree(1, runsAt, 1, 8);
  const bold = { axes: 1, size: 12, color: theme.accent, weight: 'bold', halo: theme.paper } as const;
  const notes = [
    ...(runsAt === undefined
      ? []
      : seating.beside(runsAt, 1, { ...bold, text: `runs here, ${short(feedRate)} kg/h` })),
    ...seating.along({ ...line, sides: [-10, 11] }, { size: 12, color: theme.soft }),
    ...seating.along(
      {
        ...curve,
        words:
          runsAt === undefined ? 'more returns than was sent: piles up' : 'above 1 piles up, below 1 empties',
      },
      { size: 12, color: theme.series[1]! },
    ),
  ];
  return {
    data: [traceOf(line), traceOf(curve), ...dot],
    layout: { ...layout, notes },
    caption: captionOf(input),
    table: {
      heads: ['circulating solids, kg per kg of air', 'returned per kg sent round, kg'],
      rows: Array.from(loading, (at, i) => [short(at), short(comesBack[i]!)]),
    },
  };

  function captionOf({ runsAt: at }: ChokeInput): string {
    if (at === undefined)
      return 'At every load more returns than was sent round: the mill fills up and chokes.';
    return `The mill runs steadily where the curve crosses the line: as much returns as was sent round. More feed lifts the curve; above about ${short(feedAtChoke)} kg/h (${short(feedAtChoke / feedRate)} × this feed) it no longer crosses the line and the mill chokes.`;
  }
}

function short(value: number): string {
  return Number.isFinite(value) ? tickText(Number(value.toPrecision(3))) : '∞';
}
