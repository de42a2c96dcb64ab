import type { Audience } from '../../answers/evidence-sentence.ts';
import type { MeasuredTrial } from '../../answers/measured-trials.ts';
import type { Recommendation } from '../../answers/recommend.ts';
import { positionOf } from '../../answers/sweep-position.ts';
import type { SweepTable } from '../../answers/sweep-table.ts';
import type { StoredRows } from '../../answers/table-from-store.ts';
import { label } from '../../answers/text.ts';
import type { IndexedRows } from '../../answers/what-matters.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { LevelGrid } from '../../search/window/levels.ts';
import type { StoredStudy } from '../../sweep/store/stored-study.ts';
import type { Column } from '../../sweep/study/column.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import type { OfferedFigure } from '../figures/figure-offer.ts';
import type { Html } from '../html/template.ts';
import type { Still } from './point-figures.ts';
import type { ReportData } from './report-data.ts';

export { axesOf, planeAxis, positionOf } from '../../answers/sweep-position.ts';

/** What a sweep's report is made from. */
export interface SweepSource {
  readonly stored: Pick<StoredStudy, 'study' | 'columns' | 'size' | 'hash' | 'version'>;
  /** The points the page carries, all columns. */
  readonly rows: IndexedRows;
  /** Every point, with the columns it is ranked by, where the page carries only part of the sweep. */
  readonly ranking?: { readonly columns: readonly Column[]; readonly rows: StoredRows };
  readonly trials: readonly LoggedTrial[];
  /** ISO date. */
  readonly date: string;
  readonly audience: Audience;
  /** Whether a customer's document names who ran the mill. */
  readonly operator?: boolean;
  /** Version of the program that makes the report; that of the sweep where absent. */
  readonly version?: string;
  /** A second machine, laid over the ladder. */
  readonly beside?: Scenario;
}

/** What the sections of a sweep's report share while it is made. */
export interface Context {
  readonly source: SweepSource;
  readonly best: Recommendation;
  readonly table: SweepTable;
  readonly grid: LevelGrid | undefined;
  readonly trials: readonly MeasuredTrial[];
  /** Whether the page carries the model; it cannot carry laws of the user's own. */
  readonly live: boolean;
  /** Quantity coloured at first; absent where the sweep stored none. */
  readonly quantity: string | undefined;
  /** Axes of the window; absent where fewer than two numbers were swept. */
  readonly axes: readonly [x: string, y: string] | undefined;
  /** Figures drawn so far, for the page's script. */
  readonly stills: Still['still'][];
  /** Figures that can be written as files. */
  readonly offered: OfferedFigure[];
}

/** Takes a figure's data along for the page's script. */
export function take(context: Context, still: Still): Html {
  context.stills.push(still.still);
  return offer(context, still);
}

/** Takes a figure along that the page's script draws from the sweep itself. */
export function offer({ offered }: Context, still: Still): Html {
  offered.push(still.offered);
  return still.html;
}

/** The recommended settings, the file's own, and the trials, as marks. */
export function marksOf({ best, source, table, trials }: Context): ReportData['marks'] {
  const { scenario } = source.stored.study;
  return [
    ...bestMark(best, table),
    { kind: 'file', name: 'in the file', at: positionOf(table, scenario) },
    ...trials.map(({ name, at }) => ({ kind: 'trial' as const, name: label(name, 18), at })),
  ];
}

/** The settings put forward; none where nothing is required. */
function bestMark({ kind, scenario }: Recommendation, table: SweepTable): ReportData['marks'] {
  if (kind === 'file') return [];
  return [
    { kind: 'best', name: kind === 'first' ? 'recommended' : 'nearest', at: positionOf(table, scenario) },
  ];
}

/** Words for limits by their names. */
export function wordsOf(table: SweepTable): Record<string, string> {
  return Object.fromEntries(table.limits.map(({ name, words }) => [name, words]));
}
