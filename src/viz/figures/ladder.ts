import type { LadderInput, Rung } from '../../answers/feed-ladder.ts';
import { measureText } from '../../answers/measure.ts';
import { inSigns } from '../../answers/words.ts';
import type { Drawing, Figure, Frame, Layout, LineTrace, Note, Rule, Trace } from '../drawing.ts';
import type { Theme } from '../theme.ts';
import { axis, spanOf, tickText } from '../ticks.ts';
import { type Curve, PanelSeating, traceOf } from './curves.ts';
import { spread } from './panels.ts';

/** How much it can do: what happens as the feed is raised. */
export const ladderFigure: Figure<LadderInput> = { name: 'ladder', title: 'Feed-rate ladder', draw };

function draw(input: LadderInput, frame: Frame): Drawing {
  const columns = frame.width >= 620 ? 2 : 1;
  const rows = Math.ceil(input.rungs.length / columns);
  const high = Math.max(input.feed.at(-1)!, input.other?.feed.at(-1) ?? 0);
  const axes = input.rungs.map((rung, index) => ({
    x: axis('feed, kg/h', 'linear', [0, high], { ticks: 5, grid: false }),
    y: axis(measureText(rung.measure), 'linear', rangeOf(rung, input.other?.rungs[index]), { ticks: 4 }),
  }));
  const height = rows * (columns === 1 ? 190 : 205) + 30;
  const layout: Layout = {
    width: frame.width,
    height,
    margin: { left: 48, right: 20, top: 34, bottom: 46 },
    panels: spread(axes, columns, { x: 0.11, y: rows > 1 ? 86 / (height - 80) : 0 }),
    notes: [],
    rules: input.rungs.flatMap((_, index) => rulesOf(input, index, axes[index]!.y.range, frame.theme)),
    hover: 'point',
  };
  const seating = new PanelSeating(layout);
  const data: Trace[] = [];
  const notes: Note[] = [];
  input.rungs.forEach((rung, index) => {
    const drawn = drawRung(input, rung, index, high, axes[index]!.y.range, seating, frame.theme);
    data.push(...drawn.data);
    notes.push(...drawn.notes);
  });
  return { data, layout: { ...layout, notes }, caption: captionOf(input), table: tableOf(input) };
}

function rangeOf(rung: Rung, other: Rung | undefined): [number, number] {
  const limits = rung.limits.map(({ at }) => at);
  const band = rung.band ? [...rung.band.low, ...rung.band.high] : [];
  const [low, high] = spanOf([...rung.values, ...band, ...(other?.values ?? [])], { air: 0.08 });
  const reach = high - low;
  const near = limits.filter((at) => at > low - 2 * reach && at < high + 2 * reach);
  return spanOf([low, high, ...near], { air: near.length > 0 ? 0.16 : 0.06 });
}

function rulesOf(
  { chosen, limit }: LadderInput,
  index: number,
  range: readonly [number, number],
  theme: Theme,
): Rule[] {
  const rule = (feed: number, stroke: Rule['stroke']): Rule => ({
    axes: index + 1,
    from: [feed, range[0]],
    to: [feed, range[1]],
    stroke,
  });
  return [
    rule(chosen, { color: theme.accent, width: 1.4 }),
    ...(limit ? [rule(limit.feed, { color: theme.ink, width: 1.2, dash: '5,3' })] : []),
  ];
}

function drawRung(
  input: LadderInput,
  rung: Rung,
  index: number,
  high: number,
  range: readonly [number, number],
  seating: PanelSeating,
  theme: Theme,
): { data: Trace[]; notes: Note[] } {
  const axes = index + 1;
  const { feed, chosen, limit, chokesAt, other } = input;
  const data: Trace[] = [];
  const notes: Note[] = [];
  if (rung.band) data.push(bandOf(feed, rung.band, axes, range[1], theme));
  if (chokesAt < high) {
    // beside a second machine, which may go on, the hatching marks the place alone
    const end = other ? Math.min(high, chokesAt + 0.04 * high) : high;
    const box = { x: [chokesAt, end, end, chokesAt], y: [range[0], range[0], range[1], range[1]] };
    const hatch = { color: theme.hatch, background: theme.paper };
    data.push({ kind: 'line', name: 'chokes', ...box, axes, fill: 'self', hatch, readout: 'none' });
  }
  const curve: Curve = {
    name: rung.measure.name,
    words: '',
    x: feed,
    y: rung.values,
    axes,
    stroke: { color: theme.series[1]!, width: 2.4 },
    readout: feed.map(
      (at, i) => `${rung.measure.name} ${short(rung.values[i]!)} ${rung.measure.unit} at ${short(at)} kg/h`,
    ),
  };
  const limits = rung.limits.map(
    (each): Curve => ({
      name: each.words,
      words: inSigns(each.words),
      x: [0, high],
      y: [each.at, each.at],
      axes,
      stroke: { color: theme.ink, width: 1.3 },
      readout: 'none',
      // words stand on the side that fails
      sides: each.side === 'above' ? [-11, 12] : [12, -11],
    }),
  );
  seating.avoid(curve);
  for (const rule of [chosen, ...(limit ? [limit.feed] : [])])
    seating.avoid({ x: [rule, rule], y: [...range], axes });
  for (const each of limits) {
    data.push(traceOf(each));
    notes.push(...seating.along(each, { size: 12, color: theme.ink, halo: theme.paper }));
  }
  if (other) data.push(otherOf(other, index, theme));
  data.push(traceOf(curve));
  if (index === 0) {
    const top = range[1];
    const look = { axes, size: 12, weight: 'bold', halo: theme.paper } as const;
    const inset = (range[1] - range[0]) * 0.06;
    notes.push(
      ...seating.beside(chosen, top - inset, { ...look, text: `${short(chosen)} kg/h`, color: theme.accent }),
    );
    if (limit) {
      const text = `${short(limit.feed)}: ${limit.words}`;
      const words = { ...look, weight: 'normal', text, color: theme.ink } as const;
      notes.push(...seating.beside(limit.feed, top - 3 * inset, words, [{ x: chosen, y: top - 3 * inset }]));
    }
  }
  return { data, notes };
}

function bandOf(
  feed: readonly number[],
  band: NonNullable<Rung['band']>,
  axes: number,
  top: number,
  theme: Theme,
): LineTrace {
  const kept = feed.map((_, i) => i).filter((i) => Number.isFinite(band.low[i]!));
  const back = [...kept].reverse();
  return {
    kind: 'line',
    name: 'spread',
    x: [...kept.map((i) => feed[i]!), ...back.map((i) => feed[i]!)],
    y: [...kept.map((i) => Math.min(top, band.high[i]!)), ...back.map((i) => band.low[i]!)],
    axes,
    fill: 'self',
    fillColor: theme.band,
    readout: 'none',
  };
}

function otherOf(other: NonNullable<LadderInput['other']>, index: number, theme: Theme): LineTrace {
  const rung = other.rungs[index]!;
  return {
    kind: 'line',
    name: other.name,
    x: other.feed,
    y: rung.values,
    axes: index + 1,
    stroke: { color: theme.soft, width: 1.8, dash: '6,4' },
    readout: other.feed.map(
      (at, i) => `${other.name}: ${short(rung.values[i]!)} ${rung.measure.unit} at ${short(at)} kg/h`,
    ),
  };
}

function captionOf({ feed, rungs, limit, chokesAt, chosen, other }: LadderInput): string {
  const choke = `It chokes near ${short(chokesAt)} kg/h.`;
  const first = limit
    ? `Raising the feed at these settings, ${limit.words} is the first limit, at ${short(limit.feed)} kg/h; shown is ${short(chosen)} kg/h.`
    : 'At these settings no feed rate meets the whole spec.';
  const about = bandWords(feed, rungs[0]?.band);
  return `${first} ${choke}${about}${other ? ` Dashed: ${other.name}.` : ''}`;
}

function bandWords(feed: readonly number[], band: Rung['band']): string {
  if (!band) return '';
  const grey =
    ' Grey band: middle half (25–75 %) of plausible coefficient sets; sets that choke count as above it';
  const open = band.high.indexOf(Number.POSITIVE_INFINITY);
  if (open < 0) return `${grey}.`;
  return `${grey}; from ${short(feed[open]!)} kg/h more than a quarter of them choke, so the grey has no upper end.`;
}

function tableOf({ feed, rungs }: LadderInput): Drawing['table'] {
  return {
    heads: ['feed, kg/h', ...rungs.map(({ measure }) => measureText(measure))],
    rows: feed
      .map((at, i) => [
        short(at),
        ...rungs.map(({ values }) => (Number.isNaN(values[i]!) ? 'chokes' : short(values[i]!))),
      ])
      .filter((_, i) => i % 2 === 0),
  };
}

function short(value: number): string {
  return Number.isFinite(value) ? tickText(Number(value.toPrecision(3))) : '–';
}
