import type { Drawing, Figure, Frame, Layout, Note, Rule } from '../drawing.ts';
import { axis, spanOf, tickText } from '../ticks.ts';
import { type Curve, PanelSeating, traceOf } from './curves.ts';
import { onePanel } from './panels.ts';

/** How a line stands: what is asked about, what it is compared with, or a third, fourth … */
export type Standing = 'now' | 'before' | number;

export interface LinesAxis {
  readonly title: string;
  readonly scale: 'linear' | 'log';
  readonly range: readonly [number, number];
}

export interface LinesInput {
  readonly x: LinesAxis;
  readonly y: LinesAxis;
  readonly lines: readonly {
    readonly name: string;
    readonly x: ArrayLike<number>;
    readonly y: ArrayLike<number>;
    readonly standing: Standing;
    readonly filled?: boolean;
  }[];
  /** Straight lines across at one x or one y, with words at their end. */
  readonly limits: readonly { readonly axis: 'x' | 'y'; readonly at: number; readonly words: string }[];
  readonly marks: readonly { readonly x: number; readonly y: number; readonly words: string }[];
  readonly caption: string;
}

/** Lines for a lecture room: few, thick, and named along themselves. */
export const linesFigure: Figure<LinesInput> = { name: 'lines', title: 'Lines', draw };

const THICK = 3.4;
const NAMES = 15;

function draw(input: LinesInput, frame: Frame): Drawing {
  const { theme } = frame;
  const narrow = frame.width < 480;
  const layout: Layout = {
    width: frame.width,
    height: Math.round(Math.min(430, Math.max(300, frame.width * 0.56))),
    margin: { left: 58, right: 18, top: 40, bottom: 50 },
    panels: [
      onePanel(
        axis(input.x.title, input.x.scale, input.x.range, { ticks: narrow ? 4 : 7 }),
        axis(input.y.title, input.y.scale, input.y.range, { ticks: 5 }),
      ),
    ],
    notes: [],
    rules: input.limits.map((limit) => ruleOf(limit, input, theme)),
    hover: 'point',
  };
  const curves = input.lines.map((line): Curve => ({ ...line, axes: 1, ...lookOf(line, theme) }));
  const dot = {
    symbol: 'circle',
    size: 13,
    color: theme.accent,
    line: { color: theme.paper, width: 2 },
  } as const;
  const marks = input.marks.map(({ x, y, words }) => ({
    kind: 'line' as const,
    name: words,
    x: [x],
    y: [y],
    marker: dot,
    readout: [words],
  }));
  return {
    data: [...curves.map(traceOf), ...marks],
    layout: { ...layout, notes: notesOf(input, layout, curves, frame) },
    caption: input.caption,
    table: tableOf(input),
  };
}

function ruleOf(
  { axis: along, at }: LinesInput['limits'][number],
  { x, y }: LinesInput,
  theme: Frame['theme'],
): Rule {
  const across = along === 'y';
  return {
    axes: 1,
    from: across ? [x.range[0], at] : [at, y.range[0]],
    to: across ? [x.range[1], at] : [at, y.range[1]],
    stroke: { color: theme.ink, width: 1.6, dash: '6,4' },
  };
}

function notesOf(
  input: LinesInput,
  layout: Layout,
  curves: readonly Curve[],
  { width, theme }: Frame,
): Note[] {
  const seating = new PanelSeating(layout);
  for (const curve of curves) seating.avoid(curve);
  for (const { x, y } of input.marks) seating.keepFree(1, x, y, 9);
  for (const { from, to } of layout.rules) {
    seating.avoid({ x: [from[0], to[0]], y: [from[1], to[1]], axes: 1 });
  }
  const look = { axes: 1, size: width < 480 ? 13 : NAMES, halo: theme.paper } as const;
  return [
    ...input.marks.flatMap(({ x, y, words }) =>
      seating.beside(x, y, { ...look, text: words, color: theme.accent, weight: 'bold' }),
    ),
    ...input.limits.flatMap((limit) => {
      const words = { ...look, color: theme.ink };
      if (limit.axis === 'x')
        return seating.beside(limit.at, share(input.y, 0.93), { ...words, text: limit.words });
      const { stroke, from, to } = ruleOf(limit, input, theme);
      const rule = { name: limit.words, x: [from[0], to[0]], y: [from[1], to[1]], axes: 1, stroke };
      return seating.along({ ...rule, readout: 'none', sides: [-11, 12] }, words);
    }),
    ...curves.flatMap((curve) =>
      seating.along({ ...curve, sides: [-13, 14] }, { ...look, color: curve.stroke.color }),
    ),
  ];
}

function lookOf(
  { standing, filled }: LinesInput['lines'][number],
  theme: Frame['theme'],
): Pick<Curve, 'stroke' | 'fillColor'> {
  if (standing === 'now')
    return {
      stroke: { color: theme.accent, width: THICK },
      ...(filled ? { fillColor: theme.accentSoft } : {}),
    };
  if (standing === 'before') return { stroke: { color: theme.soft, width: 2.4, dash: '7,5' } };
  const dashes = [undefined, '9,4', '2,4', '10,4,2,4'];
  const dash = dashes[standing % dashes.length];
  return {
    stroke: { color: theme.series[standing % theme.series.length]!, width: 2.6, ...(dash ? { dash } : {}) },
  };
}

/** A place along an axis, as a share of its length. */
function share({ scale, range: [from, to] }: LinesAxis, part: number): number {
  return scale === 'log' ? from * (to / from) ** part : from + (to - from) * part;
}

function tableOf({ x, y, lines }: LinesInput): Drawing['table'] {
  const short = (value: number) => (Number.isFinite(value) ? tickText(Number(value.toPrecision(3))) : '–');
  const rows = lines.flatMap((line) => {
    const step = Math.max(1, Math.floor(line.x.length / 12));
    return Array.from(line.x, (at, i) => [line.name, short(at), short(line.y[i]!)]).filter(
      (_, i) => i % step === 0,
    );
  });
  return { heads: ['line', x.title, y.title], rows };
}

/** A range that holds every line, from zero up. */
export function fromZero(lines: readonly { readonly y: ArrayLike<number> }[]): [number, number] {
  return spanOf(
    lines.flatMap(({ y }) => Array.from(y)),
    { zero: true, air: 0.14 },
  );
}
