import type { FragmentLaw } from '../../model/breakage/fragments/fragment-law.ts';
import type { SelectionLaw } from '../../model/breakage/selection/selection-law.ts';
import type { FeedLaw } from '../../model/psd/feed/feed-law.ts';
import type { Evidence } from '../../model/sources.ts';
import type { EfficiencyLaw } from '../../model/wheel/efficiency/efficiency-law.ts';
import type { Design } from '../design/design.ts';
import type { Solved } from '../outcome/quantity.ts';

/** A quantity of a user's own: read off a solved point, SI. */
export interface OwnQuantity extends Evidence {
  /** Name in specs, goals and tables; letters and digits. */
  readonly name: string;
  readonly symbol: string;
  /** SI unit of what `of` returns, and a unit of the same kind that tables show. */
  readonly unit: string;
  readonly shownIn: string;
  readonly meaning: string;
  /** Value in SI; NaN where it does not exist at this point. */
  readonly of: (solved: Solved) => number;
}

/** What a module of the user's own gives: any of six lists, under these names. */
export interface LawModule {
  readonly selection?: readonly SelectionLaw[];
  readonly fragments?: readonly FragmentLaw[];
  readonly efficiency?: readonly EfficiencyLaw[];
  readonly feed?: readonly FeedLaw[];
  readonly designs?: readonly Design[];
  readonly quantities?: readonly OwnQuantity[];
}

/** A list of a module. */
export type LawKind = keyof LawModule;

/** Each list, and what one of its entries is called in a sentence. */
export const LAW_KINDS: Readonly<Record<LawKind, string>> = {
  selection: 'selection law',
  fragments: 'fragment law',
  efficiency: 'grade-efficiency law',
  feed: 'feed law',
  designs: 'design',
  quantities: 'quantity',
};

/** Where laws come from, as stores and calibrations keep it. */
export interface LawOrigin {
  /** Name of the file, or the one given in code. */
  readonly name: string;
  /** What changes with the laws: SHA-256 of the file, or a text given in code. */
  readonly version: string;
  /** The file, so that worker threads can load it too; absent for laws registered in code. */
  readonly path?: string;
}
