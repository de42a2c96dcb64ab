import type { MeasuredLine } from '../../answers/measured-trials.ts';
import type { SizeLine } from '../../answers/point-view.ts';
import type { Gate } from '../../answers/spec-gates.ts';
import { inSigns } from '../../answers/words.ts';
import type { Drawing, Figure, Frame, Layout, LineTrace, Note, Trace } from '../drawing.ts';
import type { Theme } from '../theme.ts';
import { axis, tickText } from '../ticks.ts';
import { type Curve, PanelSeating, traceOf } from './curves.ts';
import { spread } from './panels.ts';

export interface SizeCurveInput {
  readonly product: SizeLine;
  /** Others of equal standing, such as the runs of a log after the first: all are then named along themselves. */
  readonly runs?: readonly SizeLine[];
  /** Drawn behind: feed, what the rotor throws up to the wheel. */
  readonly behind: readonly SizeLine[];
  readonly gates: readonly Gate[];
  readonly measured: readonly MeasuredLine[];
}

/** Width from which the words of a gate stand in full [px]. */
const ROOMY = 700;

/** Product against its spec, with the coarse tail on a residue axis, because that is where specs fail. */
export const sizeCurveFigure: Figure<SizeCurveInput> = { name: 'size-curve', title: 'Size curve', draw };

function draw(input: SizeCurveInput, frame: Frame): Drawing {
  const wide = frame.width >= 620;
  const [low, high] = rangeOf(input);
  const [tailLow, tailHigh] = tailOf(input);
  const ticks = wide ? 6 : 5;
  const percent = (value: number) => tickText(Number((value * 100).toPrecision(6)));
  const panels = spread(
    [
      {
        x: axis('size, µm', 'log', [low, high], { ticks }),
        y: axis('finer, %', 'linear', [0, 1], { ticks: 5, text: percent }),
      },
      {
        x: axis('size, µm', 'log', [tailLow, tailHigh], { ticks: wide ? 5 : 6 }),
        y: axis('coarser, %', 'log', [1e-4, 0.5], { ticks: 5, text: percent }),
      },
    ],
    wide ? 2 : 1,
    { x: 0.1, y: 0.165 },
  );
  const bare: Layout = {
    width: frame.width,
    height: wide ? 360 : 580,
    margin: { left: 44, right: 20, top: 34, bottom: 46 },
    panels,
    notes: [],
    rules: [],
    hover: 'point',
  };
  const curves = curvesOf(input, frame.theme);
  const seating = new PanelSeating(bare);
  for (const curve of curves) seating.avoid(curve);
  for (const gate of input.gates) for (const axes of [1, 2]) seating.avoid({ ...barOf(gate, axes), axes });
  // a panel on half a sheet's width has no room for a gate's words in full
  const inShort = frame.width < ROOMY;
  const named = input.gates.map((gate) => (inShort ? { ...gate, words: inSigns(gate.words) } : gate));
  const gates = gatesOf(named, frame.theme, seating);
  const notes = curves.flatMap((curve) => seating.along(curve, { size: 12, color: curve.stroke.color }));
  return {
    data: [...gates.data, ...curves.map(traceOf), ...measuredOf(input.measured, frame.theme)],
    layout: { ...bare, notes: [...gates.notes, ...notes] },
    caption: captionOf(input),
    table: input.runs ? runsTable([input.product, ...input.runs]) : tableOf(input),
  };
}

function rangeOf({ product, runs = [], behind }: SizeCurveInput): [number, number] {
  const lines = [product, ...runs];
  const low = Math.min(...lines.map((line) => sizeWhere(line, 0.01)));
  const ends = lines.map((line) => sizeWhere(line, 0.9999));
  const high = Math.max(...ends, ...behind.map((line) => sizeWhere(line, 0.985)));
  return [low / 1.3, high * 1.15];
}

function tailOf({ product, runs = [], gates }: SizeCurveInput): [number, number] {
  const lines = [product, ...runs];
  const sizes = gates.filter(({ share }) => share > 0.5).map(({ size }) => size);
  const low = Math.min(...lines.map((line) => sizeWhere(line, 0.6)), ...sizes.map((size) => size / 1.6));
  const high = Math.max(...lines.map((line) => sizeWhere(line, 0.9998)), ...sizes.map((size) => size * 1.8));
  return [low, high];
}

/** Size at which a curve first reaches a share, straight in ln x between its points. */
function sizeWhere({ sizes, undersize }: SizeLine, share: number): number {
  for (let i = 0; i < sizes.length; i++) {
    if (undersize[i]! < share) continue;
    if (i === 0 || !(sizes[i - 1]! > 0)) return sizes[i]!;
    const part = (share - undersize[i - 1]!) / (undersize[i]! - undersize[i - 1]!);
    return sizes[i - 1]! * (sizes[i]! / sizes[i - 1]!) ** part;
  }
  return sizes[sizes.length - 1]!;
}

function curvesOf({ product, runs, behind }: SizeCurveInput, theme: Theme): Curve[] {
  const dashes = ['5,4', '1.5,3'];
  const back = behind.map((line, index): Curve => {
    const stroke = { color: theme.soft, width: 1.4, dash: dashes[index % 2]! };
    return { name: line.name, x: line.sizes, y: line.undersize, stroke, axes: 1, readout: 'none' };
  });
  if (runs) return [...back, ...[product, ...runs].flatMap((line, k) => runCurves(line, k, theme))];
  const readout = readoutOf(product);
  const stroke = { color: theme.accent, width: 2.6 };
  return [
    ...back,
    { name: product.name, x: product.sizes, y: product.undersize, stroke, axes: 1, readout },
    { name: 'coarse tail', words: '', x: product.sizes, y: residueOf(product), stroke, axes: 2, readout },
  ];
}

/** A run among others, told apart by colour, dash and name in both panels. */
function runCurves(line: SizeLine, k: number, theme: Theme): Curve[] {
  const dashes = [undefined, '9,4', '2,3'];
  const dash = dashes[Math.floor(k / theme.series.length) % dashes.length];
  const color = theme.series[k % theme.series.length]!;
  const stroke = { color, width: 2, ...(dash ? { dash } : {}) };
  const readout = readoutOf(line).map((text) => `${line.name}: ${text}`);
  return [line.undersize, residueOf(line)].map((y, panel): Curve => {
    return { name: line.name, x: line.sizes, y, stroke, axes: panel + 1, readout };
  });
}

function residueOf({ undersize }: SizeLine): number[] {
  return Array.from(undersize, (share) => (share < 1 - 1e-7 ? 1 - share : Number.NaN));
}

function readoutOf({ sizes, undersize }: SizeLine): string[] {
  return Array.from(sizes, (size, i) => `${shown(undersize[i]! * 100)} % below ${shown(size)} µm`);
}

function shown(value: number): string {
  return tickText(Number(value.toPrecision(4)));
}

/** Bars with teeth where the curve must not pass. */
function gatesOf(
  gates: readonly Gate[],
  theme: Theme,
  seating: PanelSeating,
): { data: Trace[]; notes: Note[] } {
  const data: Trace[] = [];
  const notes: Note[] = [];
  for (const gate of gates) {
    const color = gate.met ? theme.ink : theme.accent;
    for (const axes of [1, 2]) {
      const { x, y } = barOf(gate, axes);
      data.push({
        kind: 'line',
        name: gate.words,
        x,
        y,
        axes,
        stroke: { color, width: 3.2 },
        readout: 'none',
      });
      const at = axes === 1 ? gate.share : 1 - gate.share;
      const marker = { symbol: 'circle', size: 7, color: theme.paper, line: { color, width: 2 } } as const;
      data.push({
        kind: 'line',
        name: gate.words,
        x: [gate.size],
        y: [at],
        axes,
        marker,
        readout: [gate.words],
      });
      if (axes === 1 || gate.share > 0.5) {
        const words = `${gate.words}${gate.met ? '' : ': missed'}`;
        const look = { axes, size: 12, color, weight: 'bold', halo: theme.paper } as const;
        notes.push(...seating.beside(gate.size, at, { ...look, text: words }, alongBar(gate, axes)));
      }
    }
  }
  return { data, notes };
}

/** From the gate's point away along what is forbidden. */
function barOf({ size, share, pass, about }: Gate, axes: number): { x: number[]; y: number[] } {
  const value = axes === 1 ? share : 1 - share;
  if (about === 'share') {
    const end = (pass === 'above') === (axes === 1) ? (axes === 1 ? 0 : 1e-4) : axes === 1 ? 1 : 0.5;
    return { x: [size, size], y: [value, axes === 2 && pass === 'above' ? 0.5 : end] };
  }
  return { x: [size, pass === 'above' ? size * 1e3 : size / 1e3], y: [value, value] };
}

/** Points along a gate's bar where its words may stand as well. */
function alongBar(gate: Gate, axes: number): { x: number; y: number }[] {
  const { y } = barOf(gate, axes);
  return [0.25, 0.5].map((part) => ({
    x: gate.about === 'share' ? gate.size : gate.size * (gate.pass === 'above' ? 1 + 2 * part : 1 - part),
    y: axes === 1 ? y[0]! + (y[1]! - y[0]!) * part : y[0]! * (y[1]! / y[0]!) ** part,
  }));
}

function measuredOf(lines: readonly MeasuredLine[], theme: Theme): LineTrace[] {
  const symbols = ['square', 'triangle-up', 'diamond'] as const;
  return lines.flatMap((line, index) =>
    [1, 2].map((axes): LineTrace => {
      const y = Array.from(line.undersize, (share) => (axes === 1 ? share : 1 - share));
      const look = {
        symbol: symbols[index % 3]!,
        size: 7,
        color: theme.paper,
        line: { color: theme.ink, width: 1.5 },
      };
      return {
        kind: 'line',
        name: `${line.name}, ${line.method}`,
        x: line.sizes,
        y,
        axes,
        marker: look,
        ...(line.scatter ? { errorY: line.scatter } : {}),
        readout: y.map(
          (_, i) => `${line.name}: ${shown(line.undersize[i]! * 100)} % below ${shown(line.sizes[i]!)} µm`,
        ),
      };
    }),
  );
}

function captionOf({ runs, gates, measured }: SizeCurveInput): string {
  if (runs)
    return `Measured curves of ${runs.length + 1} runs on one scale${gates.length > 0 ? '; no curve may cross a bar, which stands for a requirement' : ''}. The second panel enlarges the coarse tail, where specs fail.`;
  const missed = gates.filter(({ met }) => !met);
  const verdict =
    gates.length === 0
      ? 'The product; the spec has no size limit.'
      : missed.length === 0
        ? 'The product meets every size limit of the spec.'
        : `The product misses ${missed.map(({ words }) => words).join(' and ')}.`;
  const points =
    measured.length > 0
      ? ` Open marks are measured: ${measured.map(({ name, method }) => `${name} by ${method}`).join(', ')}.`
      : '';
  return `${verdict} The second panel enlarges the coarse tail, where specs fail.${points}`;
}

/** Shares at which the runs of a log are compared. */
const SHARES = [0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.97, 0.99] as const;

/** Sizes at the same shares, run by run. */
function runsTable(lines: readonly SizeLine[]): Drawing['table'] {
  const sizeText = (line: SizeLine, share: number) =>
    Math.max(...Array.from(line.undersize)) < share || line.undersize[0]! > share
      ? '–'
      : shown(sizeWhere(line, share));
  return {
    heads: ['finer, %', ...lines.map(({ name }) => `${name}, µm`)],
    rows: SHARES.map((share) => [shown(share * 100), ...lines.map((line) => sizeText(line, share))]),
  };
}

function tableOf({ product, behind }: SizeCurveInput): Drawing['table'] {
  const from = sizeWhere(product, 0.005);
  const rows: string[][] = [];
  for (let i = 0; i < product.sizes.length; i += 4) {
    if (product.sizes[i]! < from) continue;
    const own = shown(product.undersize[i]! * 100);
    rows.push([shown(product.sizes[i]!), own, ...behind.map(({ undersize }) => shown(undersize[i]! * 100))]);
  }
  return { heads: ['size, µm', 'product finer, %', ...behind.map(({ name }) => `${name} finer, %`)], rows };
}
