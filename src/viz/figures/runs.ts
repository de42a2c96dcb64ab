import type { SizeLine } from '../../answers/point-view.ts';
import type { Drawing, Figure, Frame, LineTrace, Note } from '../drawing.ts';
import { axis, tickText } from '../ticks.ts';
import { rowsOfPanels } from './panels.ts';

export interface RunsInput {
  readonly runs: readonly {
    readonly name: string;
    readonly measured: SizeLine;
    /** At the same settings; absent where the mill chokes in the model. */
    readonly model?: SizeLine;
  }[];
}

/** Each run as measured and as the model has it at the same settings, in panels of one scale. */
export const runsFigure: Figure<RunsInput> = { name: 'runs', title: 'Measured and computed', draw };

/** Shares of the curves that every panel shows. */
const FROM = 0.01;
const UP_TO = 0.999;

function draw({ runs }: RunsInput, frame: Frame): Drawing {
  const { theme, width } = frame;
  const columns = Math.min(runs.length, Math.max(2, Math.floor(width / 205)));
  const sizes = runs.flatMap(({ measured, model }) => endsOf(measured, ...(model ? [model] : [])));
  const x = axis('size, µm', 'log', [Math.min(...sizes) / 1.1, Math.max(...sizes) * 1.1], { ticks: 4 });
  const percent = (value: number) => tickText(Number((value * 100).toPrecision(6)));
  const y = axis('finer, %', 'linear', [0, 1], { ticks: 3, text: percent });
  const layout = rowsOfPanels(
    runs.map(() => ({ x, y })),
    {
      columns,
      width,
      each: Math.min(170, Math.max(120, (width / columns) * 0.62)),
      gap: { x: 44, y: 84 },
      margin: { left: 44, right: 16, top: 52, bottom: 46 },
      hover: 'point',
    },
  );
  const data: LineTrace[] = [];
  const notes: Note[] = [];
  runs.forEach(({ name, measured, model }, index) => {
    const axes = index + 1;
    if (model) {
      const stroke = { color: theme.accent, width: 2 };
      data.push({
        kind: 'line',
        name: 'model',
        x: model.sizes,
        y: model.undersize,
        axes,
        stroke,
        readout: 'none',
      });
    }
    const marker = {
      symbol: 'circle',
      size: 4.5,
      color: theme.paper,
      line: { color: theme.ink, width: 1.2 },
    } as const;
    const readout = Array.from(
      measured.sizes,
      (size, i) => `${name}: ${short(measured.undersize[i]! * 100)} % below ${short(size)} µm`,
    );
    data.push({ kind: 'line', name, x: measured.sizes, y: measured.undersize, axes, marker, readout });
    const bold = { color: theme.ink, size: 12, weight: 'bold' } as const;
    notes.push({
      ...bold,
      text: name,
      axes,
      x: x.range[0],
      y: 1,
      align: 'left',
      baseline: 'bottom',
      shiftX: -30,
      shiftY: -24,
    });
  });
  return { data, layout: { ...layout, notes }, caption: captionOf(runs), table: tableOf(runs) };
}

const short = (value: number): string => tickText(Number(value.toPrecision(3)));

/** Sizes at which curves begin and end. */
function endsOf(...lines: readonly SizeLine[]): number[] {
  return lines.flatMap(({ sizes, undersize }) =>
    Array.from(sizes).filter((size, i) => size > 0 && undersize[i]! >= FROM && undersize[i]! <= UP_TO),
  );
}

function captionOf(runs: RunsInput['runs']): string {
  const worst = runs.flatMap(({ name, measured, model }) => {
    const [own, computed] = [medianOf(measured), model ? medianOf(model) : Number.NaN];
    const off = Math.abs(Math.log(computed / own));
    return Number.isFinite(off) ? [{ name, off, own, computed }] : [];
  });
  const [far] = worst.sort((a, b) => b.off - a.off);
  const apart = far
    ? ` At x50 they are furthest apart in run ${far.name}: ${short(far.own)} µm measured, ${short(far.computed)} µm computed.`
    : '';
  return `Circles: measured. Line: the model at the same settings. All panels have one scale.${apart}`;
}

function medianOf(line: SizeLine): number {
  return sizeAt(line, 0.5);
}

/** Size at a share, straight in ln x; NaN where the curve does not reach it. */
function sizeAt({ sizes, undersize }: SizeLine, share: number): number {
  for (let i = 1; i < sizes.length; i++) {
    if (undersize[i]! < share || undersize[i - 1]! > share || !(sizes[i - 1]! > 0)) continue;
    const part = (share - undersize[i - 1]!) / (undersize[i]! - undersize[i - 1]! || 1);
    return sizes[i - 1]! * (sizes[i]! / sizes[i - 1]!) ** part;
  }
  return Number.NaN;
}

function tableOf(runs: RunsInput['runs']): Drawing['table'] {
  const cell = (line: SizeLine | undefined, share: number) => {
    const size = line ? sizeAt(line, share) : Number.NaN;
    return Number.isFinite(size) ? short(size) : '–';
  };
  const shares = [0.1, 0.5, 0.9, 0.95];
  return {
    heads: ['run', ...shares.flatMap((share) => [`x${share * 100}, µm`, `x${share * 100} computed, µm`])],
    rows: runs.map(({ name, measured, model }) => [
      name,
      ...shares.flatMap((share) => [cell(measured, share), cell(model, share)]),
    ]),
  };
}
