import { SPEED_ROUNDING } from '../scenario/outcome/overspeed.ts';
import { quantityNamed } from '../scenario/outcome/quantities.ts';
import type { Factor, Scenario } from '../scenario/scenario.ts';
import { labelOf, toShown } from '../scenario/units/display.ts';
import type { Column } from '../sweep/study/column.ts';
import {
  MACHINE_LIMITS,
  type SweepTable,
  type TableFactor,
  type TableLimit,
  type TableQuantity,
} from './sweep-table.ts';
import { nameInWords, pageUnit, pathInWords, requirementTopic, requirementWords, sizeLike } from './words.ts';

/** Columns as a store gives them. */
export interface StoredRows {
  readonly count: number;
  readonly values: Readonly<Record<string, Float64Array>>;
}

/** A stored sweep's rows as the page's table. */
export function tableFromStore(
  scenario: Scenario,
  factors: readonly Factor[],
  columns: readonly Column[],
  rows: StoredRows,
): SweepTable {
  const ofRole = (role: Column['role']) => columns.filter((column) => column.role === role);
  const valuesOf = ({ name }: Column) => rows.values[name]!;
  const named = (of: string) => columns.find((column) => column.role === 'quantity' && column.of === of);
  const steady = named('feedMargin');
  const reason = ofRole('reason')[0]!;
  const meets = ofRole('meetsSpec')[0];
  return {
    points: rows.count,
    factors: ofRole('factor').map((column, j) => factorOf(column, factors[j]!, valuesOf(column))),
    quantities: ofRole('quantity')
      .filter(({ of }) => of !== 'massClosure')
      .map((column) => quantityOf(column, valuesOf(column))),
    settings: ofRole('setting').map((column) => quantityOf(column, valuesOf(column))),
    limits: [
      ...ofRole('margin').map((column) => limitOf(scenario, column, valuesOf(column))),
      ...shaftLimit(MACHINE_LIMITS.rotor, named('rotorSpeedUse'), rows),
      ...shaftLimit(MACHINE_LIMITS.wheel, named('wheelSpeedUse'), rows),
      ...motorLimit(named('motorLoad'), rows),
    ],
    ...(meets ? { meets: valuesOf(meets) } : {}),
    ...(steady ? { steady: valuesOf(steady).map((percent) => percent / 100) } : {}),
    reason: valuesOf(reason),
    reasons: reason.names ?? [],
  };
}

function factorOf(column: Column, factor: Factor, values: Float64Array): TableFactor {
  const common = { path: column.of, shownIn: column.unit, values };
  const measure = { name: pathInWords(column.of), unit: column.unit === '' ? '' : labelOf(column.unit) };
  return {
    ...common,
    measure,
    ...(factor.as ? { as: factor.as } : {}),
    ...(column.names ? { names: column.names } : {}),
  };
}

function quantityOf(column: Column, values: Float64Array): TableQuantity {
  const [name, argument] = column.of.split(/[()]/);
  const quantity = quantityNamed(name!);
  const spoken = argument
    ? `${nameInWords(name!)} than ${argument.replace(/\bum\b/, 'µm')}`
    : nameInWords(name!);
  const unit = argument ? column.unit : pageUnit(name!);
  return {
    of: column.of,
    measure: { name: spoken, unit: labelOf(unit) },
    meaning: column.meaning,
    logarithmic: quantity ? sizeLike(quantity) : false,
    values: unit === column.unit ? values : values.map((value) => toShown(value, unit)),
  };
}

function limitOf({ spec }: Scenario, column: Column, values: Float64Array): TableLimit {
  const requirement = spec.find(({ text }) => text === column.of)!;
  return {
    kind: 'requirement',
    name: column.of,
    words: requirementWords(requirement),
    topic: requirementTopic(requirement),
    values,
  };
}

/** A shaft's highest speed, where some point of the sweep passes it. */
function shaftLimit(name: string, column: Column | undefined, rows: StoredRows): TableLimit[] {
  const use = column && rows.values[column.name]!;
  if (!use?.some((percent) => percent > 100 * SPEED_ROUNDING)) return [];
  return [
    {
      kind: 'machine',
      name,
      words: `highest ${name}`,
      topic: `highest ${name}`,
      values: use.map((percent) => 100 - percent),
    },
  ];
}

/** The power of the motor, where some point of the sweep needs more of it. */
function motorLimit(column: Column | undefined, rows: StoredRows): TableLimit[] {
  const load = column && rows.values[column.name]!;
  if (!load?.some((share) => share > SPEED_ROUNDING)) return [];
  const words = 'power of the motor';
  return [
    {
      kind: 'machine',
      name: MACHINE_LIMITS.motor,
      words,
      topic: words,
      values: load.map((share) => 100 * (1 - share)),
    },
  ];
}
