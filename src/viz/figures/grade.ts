import type { GradeLine } from '../../answers/point-view.ts';
import type { Drawing, Figure, Frame, Note, Rule } from '../drawing.ts';
import type { Theme } from '../theme.ts';
import { axis, tickText } from '../ticks.ts';
import { type Curve, PanelSeating, traceOf } from './curves.ts';
import { halfLayout, onePanel } from './panels.ts';

export interface GradeInput {
  readonly lines: readonly GradeLine[];
  /** Where the curves are not of wheels side by side. */
  readonly caption?: string;
}

/** What the wheel sends back, by size. */
export const gradeFigure: Figure<GradeInput> = {
  name: 'grade-efficiency',
  title: 'Grade efficiency of the wheel',
  draw,
};

function draw({ lines, caption }: GradeInput, frame: Frame): Drawing {
  const cuts = lines.map(({ cut }) => cut);
  const range: [number, number] = [Math.min(...cuts) / 14, Math.max(...cuts) * 5];
  const layout = halfLayout(
    frame.width,
    44,
    onePanel(
      axis('size, µm', 'log', range, { ticks: frame.width < 420 ? 4 : 6 }),
      axis('back to the rotor, %', 'linear', [0, 1], {
        ticks: 5,
        text: (value) => tickText(Math.round(value * 100)),
      }),
    ),
  );
  const single = lines.length === 1;
  const curves = lines.map((line, index) => curveOf(line, index, single, frame.theme));
  const seating = new PanelSeating(layout);
  for (const curve of curves) seating.avoid(curve);
  if (single)
    for (const { from, to } of singleRules(lines[0]!, range, frame.theme))
      seating.avoid({ x: [from[0], to[0]], y: [from[1], to[1]], axes: 1 });
  const notes: Note[] = single ? singleNotes(lines[0]!, seating, frame.theme) : [];
  if (!single)
    notes.push(...curves.flatMap((curve) => seating.along(curve, { size: 12, color: curve.stroke.color })));
  return {
    data: curves.map(traceOf),
    layout: { ...layout, notes, rules: single ? singleRules(lines[0]!, range, frame.theme) : [] },
    caption: caption ?? captionOf(lines),
    table: {
      heads: ['wheel', 'cut size, µm', 'sharpness x25/x75', 'bypass, %'],
      rows: lines.map(({ name, cut, sharpness, bypass }) => [
        name,
        short(cut),
        short(sharpness),
        short(bypass * 100),
      ]),
    },
  };
}

function curveOf(line: GradeLine, index: number, single: boolean, theme: Theme): Curve {
  const dashes = [undefined, '7,3', '2,3', '8,3,2,3'];
  const color = single ? theme.accent : theme.series[index % theme.series.length]!;
  const dash = dashes[index % dashes.length];
  return {
    name: line.name,
    x: line.sizes,
    y: line.toCoarse,
    axes: 1,
    stroke: { color, width: single ? 2.6 : 2, ...(dash && !single ? { dash } : {}) },
    readout: Array.from(
      line.sizes,
      (size, i) => `${line.name}: ${short(line.toCoarse[i]! * 100)} % of ${short(size)} µm goes back`,
    ),
  };
}

function singleNotes(line: GradeLine, seating: PanelSeating, theme: Theme): Note[] {
  const half = (1 + line.bypass) / 2;
  const look = { axes: 1, size: 12, color: theme.ink, halo: theme.paper } as const;
  return [
    ...seating.beside(line.cut, half, {
      ...look,
      text: `cut ${short(line.cut)} µm\nsharpness ${short(line.sharpness)}`,
      weight: 'bold',
    }),
    ...seating.beside(line.cut / 12, line.bypass, {
      ...look,
      text: `bypass ${short(line.bypass * 100)} %`,
      color: theme.soft,
    }),
  ];
}

function singleRules(line: GradeLine, range: readonly [number, number], theme: Theme): Rule[] {
  const stroke = { color: theme.soft, width: 1, dash: '3,3' };
  return [
    { axes: 1, from: [line.cut, 0], to: [line.cut, (1 + line.bypass) / 2], stroke },
    { axes: 1, from: [range[0], line.bypass], to: [range[1], line.bypass], stroke },
  ];
}

/** What the curves say: at the cut size half of what the bypass leaves over goes on, (1 − τ)/2 of the whole. */
export function captionOf(lines: readonly GradeLine[]): string {
  if (lines.length > 1) {
    return 'Share of each size that each wheel sends back: further left cuts finer, steeper sorts sharper. Sharpness is an input, not a prediction.';
  }
  const { cut, sharpness, bypass } = lines[0]!;
  const leaves = short(50 * (1 - bypass));
  return `Of the particles of the cut size, ${short(cut)} µm, ${leaves} % leave; coarser ones mostly go back to the rotor. Sharpness ${short(sharpness)} is an input, loaded as it runs; ${short(bypass * 100)} % goes back whatever its size.`;
}

function short(value: number): string {
  return tickText(Number(value.toPrecision(3)));
}
