import type { FigureName } from './index.ts';

/** A figure that a page shows and that can be written as a file: its name there, and its data. */
export interface OfferedFigure {
  readonly id: string;
  readonly title: string;
  readonly figure: FigureName;
  readonly input: unknown;
}

/** Figures of one page with the case they show and how far its numbers can be trusted. */
export interface FigureOffer {
  readonly figures: readonly OfferedFigure[];
  readonly source: string;
}
