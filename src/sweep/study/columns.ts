import type { ChokeReason } from '../../model/loop/state.ts';
import { isNamed } from '../../scenario/design/coordinate.ts';
import type { Requirement } from '../../scenario/expression/expression.ts';
import type { Factor } from '../../scenario/scenario.ts';
import { formatNumber, toShown } from '../../scenario/units/display.ts';
import type { Column } from './column.ts';
import { columnHead, distinctHeads } from './column-name.ts';
import { eachOnce, quantitiesOfSpec, SETTINGS, type StoredQuantity, storedQuantity } from './quantities.ts';
import type { Study } from './study.ts';

/** Names of the status column, by code. */
const STATUSES = ['steady', 'choked'] as const;

/** Names of the reason column, by code. */
export const REASONS = ['fold', 'load', 'grind limit'] as const satisfies readonly ChokeReason[];

/** What the columns of a study are filled from, in the order of its columns. */
export interface Layout {
  readonly columns: readonly Column[];
  readonly factors: readonly Factor[];
  /** Settings that no factor column shows already. */
  readonly settings: readonly StoredQuantity[];
  readonly quantities: readonly StoredQuantity[];
  readonly spec: readonly Requirement[];
}

/**
 * Columns of a study: its factors in the user's units, status and reason, the settings, the quantities, and the margin
 * of every spec line with whether all are met.
 */
export function layoutOf(study: Study): Layout {
  const { factors } = study.plan;
  const { spec } = study.scenario;
  const factorColumns = factors.map(factorColumn);
  const shown = new Set(factorColumns.map(({ name }) => name));
  const settings = SETTINGS.filter(({ column }) => !shown.has(column)).map((quantity) => ({ quantity }));
  const named = study.quantities.map((name) => storedQuantity(name)!);
  const quantities = eachOnce([...named, ...quantitiesOfSpec(spec)]);
  const columns: Column[] = [
    ...factorColumns,
    { name: 'status', role: 'status', of: 'status', ...NAMES, meaning: 'steady or choked', names: STATUSES },
    { name: 'reason', role: 'reason', of: 'reason', ...NAMES, meaning: 'why it chokes', names: REASONS },
    ...settings.map((each) => quantityColumn(each, 'setting')),
    ...quantities.map((each) => quantityColumn(each, 'quantity')),
    ...spec.map(marginColumn),
    ...(spec.length > 0 ? [MEETS_SPEC] : []),
  ];
  const heads = distinctHeads(['index', ...columns.map(({ name }) => name)]).slice(1);
  return {
    columns: columns.map((column, c) => ({ ...column, name: heads[c]! })),
    factors,
    settings,
    quantities,
    spec,
  };
}

const NAMES = { unit: '', symbol: '' };

const MEETS_SPEC: Column = {
  name: 'meetsSpec',
  role: 'meetsSpec',
  of: 'spec',
  unit: '1',
  symbol: '',
  meaning:
    'whether every requirement is met, no shaft turns faster than it may, and the motor gives the power',
};

function factorColumn(factor: Factor): Column {
  const common = { role: 'factor', of: factor.path, symbol: '', meaning: `factor ${factor.path}` } as const;
  if (factor.kind === 'levels' && isNamed(factor)) {
    const names = [...new Set(factor.levels.map(String))];
    return { name: columnHead(factor.path, ''), ...common, unit: '', names };
  }
  return { name: columnHead(factor.path, factor.shownIn), ...common, unit: factor.shownIn };
}

function quantityColumn(stored: StoredQuantity, role: 'setting' | 'quantity'): Column {
  const { quantity, argument } = stored;
  const { symbol, meaning, shownIn } = quantity;
  if (argument === undefined) {
    return { name: quantity.column, role, of: quantity.name, unit: shownIn, symbol, meaning };
  }
  const unit = quantity.argument === 'size' ? 'um' : '%';
  const at = formatNumber(toShown(argument, unit), 12);
  const of = `${quantity.name}(${at} ${unit})`;
  const name = columnHead(`${quantity.name} ${at} ${unit === '%' ? 'pct' : unit}`, shownIn);
  return { name, role, of, unit: shownIn, symbol, meaning };
}

function marginColumn({ text, left, shownIn }: Requirement): Column {
  const of = left.kind === 'quantity' ? text.split(/[<>]/)[0]! : text.replaceAll(/[<>]=?/g, ' ');
  const name = columnHead(`margin ${of}`, shownIn);
  const meaning = `how far inside ${text}, above 0 where it is met`;
  return { name, role: 'margin', of: text, unit: shownIn, symbol: '', meaning };
}
