import type { Table } from '../answers/table.ts';
/** A stroke. Dash patterns are lengths in px, e.g. `4,3`. */
export interface Stroke {
  readonly color: string;
  readonly width: number;
  readonly dash?: string;
}

export type Shape = 'circle' | 'square' | 'diamond' | 'cross' | 'triangle-up' | 'star';

export interface Marker {
  readonly symbol: Shape;
  readonly size: number;
  readonly color: string;
  /** Outline; an open mark has the paper's colour inside. */
  readonly line?: Stroke;
}

/** Hatching inside a fill. */
export interface Hatch {
  readonly color: string;
  readonly background: string;
}

/** Points joined, marked or filled, in the data's own numbers; NaN breaks a line. */
export interface LineTrace {
  readonly kind: 'line';
  readonly name: string;
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  readonly axes?: AxisPair;
  readonly stroke?: Stroke;
  readonly marker?: Marker;
  /** `self` closes each stretch, `zero` fills down to the axis' low end. */
  readonly fill?: 'self' | 'zero';
  readonly fillColor?: string;
  readonly hatch?: Hatch;
  /** Horizontal and vertical error, half widths. */
  readonly errorX?: ArrayLike<number>;
  readonly errorY?: ArrayLike<number>;
  /** Text a pointer reads: one a point, or none at all. */
  readonly readout?: readonly string[] | 'none';
}

/** Horizontal bars from `from` to `to` at rows y. */
export interface BarTrace {
  readonly kind: 'bar';
  readonly name: string;
  readonly y: readonly number[];
  readonly from: readonly number[];
  readonly to: readonly number[];
  /** Height of a bar in units of y. */
  readonly thickness: number;
  readonly axes?: AxisPair;
  readonly color: string;
  readonly hatch?: Hatch;
}

export type Trace = LineTrace | BarTrace;

/** Which pair of axes something is drawn on: 1 for the first panel. */
export type AxisPair = number;

export interface Axis {
  /** Quantity and unit; of a vertical axis it stands level above the axis. */
  readonly title: string;
  readonly scale: 'linear' | 'log';
  /** Ends in the data's own numbers; may run backwards. */
  readonly range: readonly [number, number];
  readonly ticks: readonly { readonly at: number; readonly text: string }[];
  /** Whether lines run across the panel at the ticks. */
  readonly grid: boolean;
}

/** One pair of axes and the part of the drawing it takes, as shares of the inner width and height from bottom left. */
export interface Panel {
  readonly x: Axis;
  readonly y: Axis;
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/** A word or two in the drawing. */
export interface Note {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  /** Panel whose data numbers x and y are. */
  readonly axes: AxisPair;
  readonly align: 'left' | 'center' | 'right';
  readonly baseline: 'top' | 'middle' | 'bottom';
  /** Degrees, clockwise. */
  readonly angle?: number;
  readonly shiftX?: number;
  readonly shiftY?: number;
  readonly color: string;
  readonly size: number;
  readonly weight?: 'normal' | 'bold';
  /** Colour behind the words, so that lines do not run through them. */
  readonly halo?: string;
}

/** A straight line across a panel, or along it. */
export interface Rule {
  readonly axes: AxisPair;
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly stroke: Stroke;
}

export interface Layout {
  readonly width: number;
  readonly height: number;
  readonly margin: {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  };
  readonly panels: readonly Panel[];
  readonly notes: readonly Note[];
  readonly rules: readonly Rule[];
  /** How a pointer reads: the nearest point, all lines at one x, or not at all. */
  readonly hover: 'point' | 'across' | 'none';
}

/** A figure ready to be drawn. Text is plain: the renderer escapes it. */
export interface Drawing {
  readonly data: readonly Trace[];
  readonly layout: Layout;
  /** One sentence: what to see. */
  readonly caption: string;
  readonly table: Table;
}

/** Room and colours a figure is drawn for. */
export interface Frame {
  /** [px] */
  readonly width: number;
  readonly theme: import('./theme.ts').Theme;
}

/** A figure of the registry: data in, drawing out. */
export interface Figure<Input> {
  readonly name: string;
  readonly title: string;
  readonly draw: (input: Input, frame: Frame) => Drawing;
}
