import { measureText } from '../../answers/measure.ts';
import { CHOKE, RIM } from '../../answers/sweep-window.ts';
import type { Table } from '../../answers/table.ts';
import { tickText } from '../ticks.ts';
import type { WindowInput } from './window-input.ts';

/** For levels of x, the range of y that meets everything, and which limit ends it below and above. */
export function edgeTable(input: WindowInput): Table {
  const { window, x, y, words } = input;
  const named = (limit: string) =>
    limit === RIM ? 'end of the range' : limit === CHOKE ? 'choking' : (words[limit] ?? limit);
  const rows: string[][] = [];
  for (const level of thinned(window.lattice.x, 9)) {
    const crossings = crossingsAt(window.edge, level);
    if (crossings.length === 0) rows.push([tickText(round(level)), 'none', '', 'none', '']);
    for (let i = 0; i + 1 < crossings.length; i += 2) {
      const [low, high] = [crossings[i]!, crossings[i + 1]!];
      rows.push([
        tickText(round(level)),
        tickText(round(low.y)),
        named(low.limit),
        tickText(round(high.y)),
        named(high.limit),
      ]);
    }
  }
  return {
    heads: [
      measureText(x),
      `lowest ${measureText(y)}`,
      'limited by',
      `highest ${measureText(y)}`,
      'limited by',
    ],
    rows,
  };
}

function thinned(levels: Float64Array, most: number): number[] {
  const step = Math.max(1, Math.ceil(levels.length / most));
  return [...levels].filter((_, i) => i % step === 0);
}

function crossingsAt(edge: WindowInput['window']['edge'], at: number): { y: number; limit: string }[] {
  const found: { y: number; limit: string }[] = [];
  for (const { limit, x, y } of edge) {
    for (let i = 1; i < x.length; i++) {
      const [a, b] = [x[i - 1]!, x[i]!];
      if (a <= at === b <= at) continue;
      found.push({ y: y[i - 1]! + ((y[i]! - y[i - 1]!) * (at - a)) / (b - a), limit });
    }
  }
  return found.sort((p, q) => p.y - q.y);
}

function round(value: number): number {
  return Number(value.toPrecision(4));
}
