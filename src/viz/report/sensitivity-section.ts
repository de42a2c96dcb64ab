import { sensitivityOf } from '../../search/sensitivity/sensitivity.ts';
import type { StoredStudy } from '../../sweep/store/stored-study.ts';
import { label } from '../escape.ts';
import type { EffectsInput } from '../figures/effects.ts';
import type { IndicesInput } from '../figures/indices.ts';
import { measureText } from '../figures/window-input.ts';
import { quantityOf, type SweepTable } from './sweep-table.ts';

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
