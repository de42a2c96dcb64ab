import type { ChokeReason } from '../../model/loop/state.ts';
import { isNamed } from '../../scenario/design/coordinate.ts';
import type { Requirement } from '../../scenario/expression/expression.ts';
import type { Factor, Scenario } from '../../scenario/scenario.ts';
import { placed } from '../../scenario/scenario-of-grade.ts';
import { formatNumber, toShown } from '../../scenario/units/display.ts';
import type { Column } from './column.ts';
import { columnHead, distinctHeads } from './column-name.ts';
import {
  eachOnce,
  quantitiesOfSpec,
  SETTINGS,
  type StoredQuantity,
  storedQuantity,
} from './stored-quantities.ts';
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
  /** Every requirement once: the common ones and those of all grades. */
  readonly spec: readonly Requirement[];
  /** What is judged as a whole, one column each: the spec, or that of each grade. */
  readonly verdicts: readonly Verdict[];
}

/** A spec judged as a whole. */
interface Verdict {
  /** Name of the grade; absent where the scenario has none. */
  readonly grade?: string;
  /** Places of its requirements in the layout's `spec`. */
  readonly places: readonly number[];
}

/**
 * Columns of a study: its factors in the user's units, status and reason, the settings, the quantities, and the margin
 * of every spec line with whether all are met; where the scenario has grades, whether the spec of each is.
 */
export function layoutOf(study: Study): Layout {
  const { factors } = study.plan;
  const spec = specOf(study.scenario);
  const verdicts = verdictsOf(study.scenario, spec);
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
    ...verdicts.map(({ grade }) => verdictColumn(grade)),
  ];
  const heads = distinctHeads(['index', ...columns.map(({ name }) => name)]).slice(1);
  return {
    columns: columns.map((column, c) => ({ ...column, name: heads[c]! })),
    factors,
    settings,
    quantities,
    spec,
    verdicts,
  };
}

/** Requirements a study stores the margins of: the common ones, then those of each grade, by their text. */
export function specOf({ spec, grades }: Pick<Scenario, 'spec' | 'grades'>): readonly Requirement[] {
  const all = [...spec, ...placed(grades).flatMap(([, grade]) => grade.spec)];
  return [...new Map(all.map((requirement) => [requirement.text, requirement])).values()];
}

function verdictsOf({ grades }: Scenario, spec: readonly Requirement[]): readonly Verdict[] {
  if (!grades) return spec.length > 0 ? [{ places: spec.map((_, place) => place) }] : [];
  return placed(grades).map(([name, grade]) => ({
    grade: name,
    places: grade.spec.map(({ text }) => spec.findIndex((each) => each.text === text)),
  }));
}

const NAMES = { unit: '', symbol: '' };

function verdictColumn(grade: string | undefined): Column {
  const whose = grade === undefined ? '' : ` of ${grade}`;
  return {
    name: grade === undefined ? 'meetsSpec' : columnHead(`meets ${grade}`, ''),
    role: 'meetsSpec',
    of: grade ?? 'spec',
    unit: '1',
    symbol: '',
    meaning: `whether every requirement${whose} is met, no shaft turns faster than it may, and the motor gives the power`,
  };
}

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
