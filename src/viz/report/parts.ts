import type { FigureOffer } from '../figures/figure-offer.ts';
import type { Html } from '../html/template.ts';
import type { ReportData } from './report-data.ts';

/** A report before it is written: what it says, what its script works from, and whether it carries the model. */
export interface ReportParts {
  readonly title: string;
  readonly body: Html;
  readonly data: ReportData;
  /** A page without any script, of which nothing but what is drawn is in the file. */
  readonly still?: true;
  /** Words in the foot of every printed page. */
  readonly foot?: string;
  /** Its figures, as files can be written of them. */
  readonly offer: FigureOffer;
  /** What it answers, as `--json` writes it; only of a sweep or a run. */
  readonly json?: Readonly<Record<string, unknown>>;
}
