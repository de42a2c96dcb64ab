import { sensitivityOf } from '../search/sensitivity/sensitivity.ts';
import type { StoredStudy } from '../sweep/store/stored-study.ts';
import { type Measure, measureText } from './measure.ts';
import { quantityOf, type SweepTable } from './sweep-table.ts';
import { label } from './text.ts';

/** A share with the bounds it lies in at 95 % confidence, 0…1. */
export interface Bounded {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface IndicesInput {
  /** Name of the quantity that varies. */
  readonly quantity: string;
  readonly rows: readonly { readonly name: string; readonly first: Bounded; readonly total: Bounded }[];
  /** What to know before trusting them. */
  readonly notes: readonly string[];
}

/** Mean of a quantity at each level of one factor, over all points of the sweep there. */
export interface Effect {
  readonly factor: Measure;
  /** Levels as numbers, or names. */
  readonly levels: readonly (number | string)[];
  readonly means: readonly number[];
  /** Bounds of the mean at 95 % confidence. */
  readonly lower: readonly number[];
  readonly upper: readonly number[];
}

export interface EffectsInput {
  readonly measure: Measure;
  readonly effects: readonly Effect[];
}

/** Rows of the store with the index of each. */
export interface IndexedRows {
  readonly count: number;
  readonly index: Float64Array;
  readonly values: Readonly<Record<string, Float64Array>>;
}

/** Main effects of the factors on one quantity, and the share of its variance each accounts for. */
export function mattersOf(
  stored: Pick<StoredStudy, 'study' | 'columns'>,
  rows: IndexedRows,
  table: SweepTable,
  quantity: string,
): { readonly effects: EffectsInput; readonly indices?: IndicesInput } {
  const column = stored.columns.find(({ role, of }) => role === 'quantity' && of === quantity)!;
  const found = sensitivityOf(stored, rows, column.name);
  const { measure } = quantityOf(table, quantity);
  const effects = table.factors.map((factor, j) => {
    const effect = found.factors[j]!.effect;
    return {
      factor: factor.measure,
      levels: effect.map(({ at }) => (factor.names ? label(factor.names[at]!) : at)),
      means: effect.map(({ mean }) => mean),
      lower: effect.map(({ low, mean }) => (Number.isNaN(low) ? mean : low)),
      upper: effect.map(({ high, mean }) => (Number.isNaN(high) ? mean : high)),
    };
  });
  const rowsOf = table.factors.flatMap((factor, j) => {
    const { indices } = found.factors[j]!;
    return indices ? [{ name: factor.measure.name, first: indices.first, total: indices.total }] : [];
  });
  return {
    effects: { measure, effects },
    ...(rowsOf.length > 0
      ? { indices: { quantity: measureText(measure), rows: rowsOf, notes: found.notes } }
      : {}),
  };
}
