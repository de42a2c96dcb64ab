import type { BalanceInput } from '../../answers/point-view.ts';
import type { Drawing, Figure, Frame } from '../drawing.ts';
import { axis, spanOf, tickText } from '../ticks.ts';
import { type Curve, PanelSeating, traceOf } from './curves.ts';
import { halfLayout, onePanel } from './panels.ts';

/** What is fed, what goes round and what leaves, by size. */
export const balanceFigure: Figure<BalanceInput> = {
  name: 'balance',
  title: 'Round the loop, by size',
  draw,
};

function draw(input: BalanceInput, frame: Frame): Drawing {
  const { sizes, feed, arriving, product, feedRate, circulating } = input;
  const top = spanOf([...Array.from(arriving), ...Array.from(feed)], { zero: true, air: 0.12 });
  const layout = halfLayout(
    frame.width,
    52,
    onePanel(
      axis('size, µm', 'log', rangeOf(input), { ticks: frame.width < 420 ? 4 : 6 }),
      axis('kg/h per octave of size', 'linear', top, { ticks: 4 }),
    ),
  );
  const { theme } = frame;
  const read = (name: string, flow: ArrayLike<number>) =>
    Array.from(flow, (value, i) => `${name}: ${short(value)} kg/h per octave at ${short(sizes[i]!)} µm`);
  const curves: Curve[] = [
    {
      name: 'round the loop',
      words: `round the loop ${short(circulating)} kg/h`,
      x: sizes,
      y: arriving,
      axes: 1,
      stroke: { color: theme.series[1]!, width: 2 },
      readout: read('round the loop', arriving),
    },
    {
      name: 'feed',
      words: `feed ${short(feedRate)} kg/h`,
      x: sizes,
      y: feed,
      axes: 1,
      stroke: { color: theme.soft, width: 1.6, dash: '5,4' },
      readout: read('feed', feed),
    },
    {
      name: 'product',
      words: `product ${short(feedRate)} kg/h`,
      x: sizes,
      y: product,
      axes: 1,
      stroke: { color: theme.accent, width: 2.4 },
      fillColor: theme.accentSoft,
      readout: read('product', product),
    },
  ];
  const seating = new PanelSeating(layout);
  for (const curve of curves) seating.avoid(curve);
  const notes = [...curves].reverse().flatMap((curve) => {
    const top = peakOf(curve.y);
    const look = { axes: 1, size: 12, color: curve.stroke.color, halo: theme.paper } as const;
    return seating.beside(sizes[top]!, curve.y[top]!, { ...look, text: curve.words! });
  });
  return {
    data: [...curves].reverse().map(traceOf),
    layout: { ...layout, notes },
    caption: `${short(circulating / feedRate)} kg arrive at the wheel for each kg that leaves; sizes near the cut circulate most.`,
    table: {
      heads: [
        'size, µm',
        'feed, kg/h per octave',
        'round the loop, kg/h per octave',
        'product, kg/h per octave',
      ],
      rows: rowsOf(input),
    },
  };
}

function peakOf(flow: ArrayLike<number>): number {
  return Array.from(flow).reduce((best, value, i) => (value > flow[best]! ? i : best), 0);
}

function rangeOf({ sizes, feed, arriving, product }: BalanceInput): [number, number] {
  const most = Math.max(...Array.from(arriving), ...Array.from(feed));
  const seen = Array.from(sizes).filter(
    (_, i) => Math.max(feed[i]!, arriving[i]!, product[i]!) > most * 2e-3,
  );
  return [seen[0]! / 1.1, seen.at(-1)! * 1.1];
}

function rowsOf({ sizes, feed, arriving, product }: BalanceInput): string[][] {
  const rows: string[][] = [];
  for (let i = 0; i < sizes.length; i += 4) {
    rows.push([short(sizes[i]!), short(feed[i]!), short(arriving[i]!), short(product[i]!)]);
  }
  return rows;
}

function short(value: number): string {
  return Math.abs(value) < 1e-3 ? '0' : tickText(Number(value.toPrecision(3)));
}
