import type { Measure } from '../../answers/measure.ts';
import type { MeasuredTrial } from '../../answers/measured-trials.ts';
import type { Bands } from '../../answers/sweep-window.ts';
import type { PlaneFields } from '../../search/window/window.ts';
import type { FigureName } from '../figures/index.ts';
import type { Mark } from '../figures/window-input.ts';
import type { ColumnScale } from './compress-columns.ts';
import type { Control } from './controls.ts';

/** A column in the page: deflated bytes in base64 with their scale. Names and exact levels travel whole. */
export interface PackedColumn {
  readonly scale: ColumnScale;
  readonly bytes: string;
  /** Whether it says nothing of points that choke. */
  readonly masked: boolean;
}

export interface PackedFactor {
  readonly path: string;
  readonly measure: Measure;
  readonly shownIn: string;
  readonly as?: 'shaft' | 'rim';
  readonly names?: readonly string[];
  /** Exact values that occur, so that levels are told apart: the column then holds places in it. */
  readonly levels?: readonly number[];
  readonly column: PackedColumn;
}

/** A sweep in the page. */
export interface PackedSweep {
  readonly points: number;
  readonly factors: readonly PackedFactor[];
  readonly quantities: readonly {
    readonly of: string;
    readonly measure: Measure;
    readonly meaning: string;
    readonly logarithmic: boolean;
    readonly column: PackedColumn;
  }[];
  readonly limits: readonly {
    readonly kind: 'requirement' | 'machine';
    readonly name: string;
    readonly words: string;
    readonly topic: string;
    readonly column: PackedColumn;
  }[];
  readonly steady?: PackedColumn;
  readonly reason: PackedColumn;
  readonly reasons: readonly string[];
  /** Factors of the window at first. */
  readonly axes?: readonly [x: string, y: string];
  /** Quantity coloured at first. */
  readonly quantity: string;
}

/** Everything the page's script works from. */
export interface ReportData {
  /** What a figure says of where it comes from when it leaves the page. */
  readonly source?: string;
  readonly sweep?: PackedSweep;
  /** What the page can turn, standing at the recommended settings. */
  readonly controls: readonly Control[];
  /** Where the file stands, by path, in the units shown. */
  readonly file: Readonly<Record<string, number | string>>;
  /** Where all factors stand at first. */
  readonly position: Readonly<Record<string, number | string>>;
  readonly marks: readonly (Omit<Mark, 'x' | 'y'> & {
    readonly at: Readonly<Record<string, number | string>>;
  })[];
  /** Words for limits, by name, and why it chokes. */
  readonly words: Readonly<Record<string, string>>;
  readonly chokedBecause: string;
  /** Plane solved beforehand, for scattered designs where the page has no model. */
  readonly plane?: PlaneFields;
  /** Where limits may lie at the recommended settings, by name. */
  readonly bands?: Bands;
  /** Whether the bands show at first: once a fit has narrowed them. */
  readonly showBands?: boolean;
  readonly trials?: readonly MeasuredTrial[];
  /** Figures drawn from data that came with the page. */
  readonly stills: readonly { readonly id: string; readonly figure: FigureName; readonly input: unknown }[];
  /** Whether a surface can be turned in three dimensions. */
  readonly solid?: true;
  /** Present where the page carries the model: the recommended scenario, as `plainJson` writes it. */
  readonly live?: { readonly scenario: string };
}
