import type { RidgeInput, RidgeLine } from '../../answers/capacity-ridge.ts';
import { listed } from '../../answers/join-words.ts';
import { type Measure, measureText } from '../../answers/measure.ts';
import type { Drawing, Figure, Frame, Layout } from '../drawing.ts';
import type { Theme } from '../theme.ts';
import { axis, spanOf, tickText } from '../ticks.ts';
import { type Curve, PanelSeating, traceOf } from './curves.ts';
import { onePanel } from './panels.ts';

/** How much each wheel can do, and what holds it back. */
export const ridgeFigure: Figure<RidgeInput> = { name: 'ridge', title: 'Capacity ridge', draw };

function draw(
  { x, lines, within = 'that meets everything', of = 'wheel' }: RidgeInput,
  frame: Frame,
): Drawing {
  const { theme } = frame;
  const all = lines.flatMap(({ feed }) => feed);
  const top = spanOf(all, { zero: true, air: 0.16 });
  const ends = lines.flatMap((line) => line.x);
  const layout: Layout = {
    width: frame.width,
    height: Math.min(400, Math.max(290, frame.width * 0.5)),
    margin: { left: 48, right: 20, top: 34, bottom: 46 },
    panels: [
      onePanel(
        axis(measureText(x), 'linear', [Math.min(...ends), Math.max(...ends)], {
          ticks: frame.width < 460 ? 4 : 7,
          grid: false,
        }),
        axis(`highest feed ${within}, kg/h`, 'linear', top, { ticks: 5 }),
      ),
    ],
    notes: [],
    rules: [],
    hover: 'point',
  };
  const stretches = lines.flatMap((line, index) => stretchesOf(line, index, theme));
  const seating = new PanelSeating(layout);
  for (const curve of stretches) seating.avoid(curve);
  const names = lines.flatMap((line, index) => {
    const end = line.feed.findLastIndex(Number.isFinite);
    if (end < 0) return [];
    const color = theme.series[index % theme.series.length]!;
    const look = { axes: 1, size: 12.5, color, weight: 'bold', halo: theme.paper } as const;
    return seating.beside(line.x[end]!, line.feed[end]!, { ...look, text: line.name });
  });
  const notes = stretches.flatMap((curve) =>
    seating.along(curve, { size: 11.5, color: curve.stroke.color, halo: theme.paper }),
  );
  return {
    data: stretches.map(traceOf),
    layout: { ...layout, notes: [...notes, ...names] },
    caption: captionOf(lines, x),
    table: {
      heads: [of, measureText(x), 'highest feed, kg/h', 'held back by'],
      rows: lines.flatMap((line) =>
        line.x.map((at, i) => [
          line.name,
          short(at),
          short(line.feed[i]!),
          Number.isNaN(line.feed[i]!) ? 'no feed meets the spec' : line.binding[i]!,
        ]),
      ),
    },
  };
}

/** Pieces of a line along which one limit binds; they share their ends. */
function stretchesOf(line: RidgeLine, index: number, theme: Theme): Curve[] {
  const dashes = [undefined, '8,3', '2,3', '9,3,2,3'];
  const color = theme.series[index % theme.series.length]!;
  const dash = dashes[index % dashes.length];
  const stroke = { color, width: 2.2, ...(dash ? { dash } : {}) };
  const curves: Curve[] = [];
  for (let start = 0; start < line.x.length; ) {
    let end = start;
    while (end + 1 < line.x.length && line.binding[end + 1] === line.binding[start]) end++;
    const last = Math.min(end + 1, line.x.length - 1);
    const x = line.x.slice(start, last + 1);
    const y = line.feed.slice(start, last + 1);
    const readout = x.map(
      (at, i) =>
        `${line.name}, ${short(at)}: up to ${short(y[i]!)} kg/h, held back by ${line.binding[start + i] ?? ''}`,
    );
    if (y.some(Number.isFinite))
      curves.push({ name: line.name, words: line.binding[start]!, x, y, axes: 1, stroke, readout });
    start = end + 1;
  }
  return curves;
}

function peakOf({ feed }: RidgeLine): number {
  return feed.reduce((best, value, i) => (value > (feed[best] ?? Number.NEGATIVE_INFINITY) ? i : best), -1);
}

function captionOf(lines: readonly RidgeLine[], x: Measure): string {
  const peaks = lines
    .map((line) => ({ line, peak: peakOf(line) }))
    .filter(({ peak }) => peak >= 0)
    .map(
      ({ line, peak }) => `${line.name} ${short(line.feed[peak]!)} kg/h at ${short(line.x[peak]!)} ${x.unit}`,
    );
  if (peaks.length === 0) return 'No wheel meets the whole spec at any feed rate in the sweep.';
  return `Highest feed that meets the whole spec, the other settings at their best, and along each line the requirement that limits it. Peaks: ${listed(peaks)}.`;
}

function short(value: number): string {
  return Number.isFinite(value) ? tickText(Number(value.toPrecision(3))) : '–';
}
