import { measureText } from '../../answers/measure.ts';
import type { Span, SpansInput } from '../../answers/one-at-a-time.ts';
import type { Drawing, Figure, Frame, Layout, Note, Trace } from '../drawing.ts';
import { axis, spanOf, tickText } from '../ticks.ts';
import { textWidth } from './label-placement.ts';
import { onePanel } from './panels.ts';

/** Which cause moves the answer most. */
export const spansFigure: Figure<SpansInput> = { name: 'spans', title: 'What moves the answer', draw };

function draw(input: SpansInput, frame: Frame): Drawing {
  const { measure, centre, spans } = input;
  const { theme } = frame;
  const rowHeight = 26;
  const longest = Math.max(40, ...spans.map(({ name }) => textWidth(name, 12.5)));
  const left = Math.min(longest + 14, frame.width * 0.5);
  const [low, high] = spanOf([centre, ...spans.flatMap((span) => [span.low, span.high])], { air: 0.08 });
  const layout: Layout = {
    width: frame.width,
    height: spans.length * rowHeight + 74,
    margin: { left, right: 18, top: 20, bottom: 46 },
    panels: [
      onePanel(axis(measureText(measure), 'linear', [low, high], { ticks: frame.width < 460 ? 3 : 6 }), {
        title: '',
        scale: 'linear',
        range: [spans.length - 0.5, -0.5],
        ticks: spans.map(({ name }, index) => ({ at: index, text: name })),
        grid: false,
      }),
    ],
    notes: [],
    rules: [
      {
        axes: 1,
        from: [centre, -0.5],
        to: [centre, spans.length - 0.5],
        stroke: { color: theme.ink, width: 1.4 },
      },
    ],
    hover: 'none',
  };
  const rows = spans.map((_, index) => index);
  const bar = (name: string, end: (span: Span) => number, look: object): Trace => ({
    kind: 'bar',
    name,
    y: rows,
    from: rows.map(() => centre),
    to: spans.map(end),
    thickness: 0.56,
    color: theme.series[1]!,
    ...look,
  });
  const data = [
    bar('lowered', (span) => span.low, { hatch: { color: theme.series[1]!, background: theme.paper } }),
    bar('raised', (span) => span.high, {}),
  ];
  return {
    data,
    layout: { ...layout, notes: endNotes(spans, frame) },
    caption:
      frame.width < NUMBERS ? input.caption : `${input.caption} At the end of each bar: the value tried.`,
    table: tableOf(input),
  };
}

/** Width from which a drawing has room for the values tried [px]. */
const NUMBERS = 560;

/** What was tried, beyond the bar's end where there is room. */
function endNotes(spans: readonly Span[], frame: Frame): Note[] {
  if (frame.width < NUMBERS) return [];
  return spans.flatMap((span, index) =>
    [
      { at: span.low, words: span.lowWords },
      { at: span.high, words: span.highWords },
    ].flatMap(({ at, words }): Note[] => {
      if (!words || !Number.isFinite(at)) return [];
      const right = at >= Math.max(span.low, span.high);
      return [
        {
          text: words,
          x: at,
          y: index,
          axes: 1,
          align: right ? 'left' : 'right',
          baseline: 'middle',
          shiftX: right ? 5 : -5,
          color: frame.theme.soft,
          size: 11,
          halo: frame.theme.paper,
        },
      ];
    }),
  );
}

function tableOf({ measure, spans }: SpansInput): Drawing['table'] {
  const short = (value: number) =>
    Number.isFinite(value) ? tickText(Number(value.toPrecision(3))) : 'chokes';
  return {
    heads: ['cause', `${measureText(measure)} when lowered`, `${measureText(measure)} when raised`],
    rows: spans.map(({ name, low, high }) => [name, short(low), short(high)]),
  };
}
