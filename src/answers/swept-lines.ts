import type { Requirement } from '../scenario/expression/expression.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { labelOf, toShown } from '../scenario/units/display.ts';
import { listed } from './join-words.ts';
import { type Measure, measureText } from './measure.ts';
import { endsOf, type SweepTable, type TableFactor, type TableQuantity } from './sweep-table.ts';
import { label, sentence } from './text.ts';
import { inSigns, pageUnit, requirementWords } from './words.ts';

/** An axis of a figure of lines. */
interface Axis {
  readonly title: string;
  readonly scale: 'linear' | 'log';
  readonly range: readonly [number, number];
}

/** One quantity against the one number that was swept, a line for each name, with the limits on it. */
export interface SweptLines {
  readonly id: string;
  readonly title: string;
  readonly input: {
    readonly x: Axis;
    readonly y: Axis;
    readonly lines: readonly {
      readonly name: string;
      readonly x: readonly number[];
      readonly y: readonly number[];
      readonly standing: 'now' | number;
    }[];
    readonly limits: readonly { readonly axis: 'y'; readonly at: number; readonly words: string }[];
    readonly marks: readonly [];
    readonly caption: string;
  };
}

/** Figures at most, and lines in one. */
const MOST = 4;
const MOST_LINES = 6;

/**
 * What a sweep over one number shows: each required quantity against it, with its limits; without requirements x95. Nothing
 * where more than one number was swept, or none.
 */
export function sweptLines(scenario: Scenario, table: SweepTable): SweptLines[] {
  const numbers = table.factors.filter(({ names, values }) => !names && spread(values));
  if (numbers.length !== 1) return [];
  const factor = numbers[0]!;
  const required = scenario.spec.flatMap(({ left }) => {
    if (left.kind !== 'quantity') return [];
    const found = quantityNamed(table, left.name, left.argument);
    return found ? [found] : [];
  });
  const shown = required.length > 0 ? required : table.quantities.filter(({ of }) => of === 'x95');
  return [...new Set(shown)].slice(0, MOST).map((quantity) => linesOf(scenario, table, factor, quantity));
}

function spread(values: ArrayLike<number>): boolean {
  const [low, high] = endsOf(values);
  return high > low;
}

function quantityNamed(
  table: SweepTable,
  name: string,
  argument: number | undefined,
): TableQuantity | undefined {
  if (argument === undefined) return table.quantities.find(({ of }) => of === name);
  return table.quantities.find(({ of }) => {
    const [own, size] = of.split(/[()]/);
    return own === name && Math.abs(Number.parseFloat(size ?? '') * 1e-6 - argument) < 1e-9 * argument;
  });
}

function linesOf(
  scenario: Scenario,
  table: SweepTable,
  factor: TableFactor,
  quantity: TableQuantity,
): SweptLines {
  const limits = limitsOn(scenario, quantity);
  const lines = linesByName(table, factor, quantity);
  const ys = [...lines.flatMap(({ y }) => y), ...limits.map(({ at }) => at)].filter(Number.isFinite);
  const [low, high] = ys.length > 0 ? [Math.min(...ys), Math.max(...ys)] : [0, 1];
  const room = 0.08 * (high - low || Math.abs(high) || 1);
  const name = quantity.measure.name;
  return {
    id: `swept-${quantity.of.replace(/[^\w]+/g, '-')}`,
    title: `${sentence(name)} against ${factor.measure.name}`,
    input: {
      x: { title: measureText(factor.measure), scale: 'linear', range: endsOf(factor.values) },
      y: { title: measureText(quantity.measure), scale: 'linear', range: [low - room, high + room] },
      lines,
      limits: limits.map(({ at, words }) => ({ axis: 'y', at, words })),
      marks: [],
      caption: captionOf(factor.measure, quantity.measure, limits, lines),
    },
  };
}

function linesByName(table: SweepTable, factor: TableFactor, quantity: TableQuantity) {
  const named = table.factors.filter(({ names }) => names);
  const nameAt = (row: number) =>
    named.map(({ names, values }) => label(names![values[row]!] ?? '')).join(', ');
  const rows = Array.from({ length: table.points }, (_, row) => row).sort(
    (a, b) => factor.values[a]! - factor.values[b]!,
  );
  const groups = [...new Set(rows.map(nameAt))].slice(0, MOST_LINES);
  return groups.map((name, k) => {
    const own = rows.filter((row) => nameAt(row) === name);
    return {
      name: name === '' ? quantity.measure.name : name,
      x: own.map((row) => factor.values[row]!),
      y: own.map((row) => quantity.values[row]!),
      standing: k === 0 ? ('now' as const) : k + 1,
    };
  });
}

/** Limits of the spec on a quantity, in its unit. */
function limitsOn({ spec }: Scenario, quantity: TableQuantity): { at: number; words: string }[] {
  return spec.flatMap((requirement) => {
    const { left, right } = requirement;
    if (left.kind !== 'quantity' || right.kind !== 'number') return [];
    const same =
      quantity.of === left.name || (left.argument !== undefined && quantity.of.startsWith(`${left.name}(`));
    if (!same || !sameArgument(requirement, quantity)) return [];
    const unit = left.argument === undefined ? pageUnit(left.name) : requirement.shownIn;
    return [{ at: toShown(right.value, unit), words: inSigns(requirementWords(requirement)) }];
  });
}

function sameArgument({ left }: Requirement, { of, measure }: TableQuantity): boolean {
  if (left.kind !== 'quantity' || left.argument === undefined) return true;
  const size = Number.parseFloat(of.split(/[()]/)[1] ?? '');
  return Math.abs(size * 1e-6 - left.argument) < 1e-9 * left.argument && measure.unit === labelOf('%');
}

function captionOf(
  factor: Measure,
  quantity: Measure,
  limits: readonly { readonly words: string }[],
  lines: SweptLines['input']['lines'],
): string {
  const across =
    limits.length > 0 ? ` The line across is the limit: ${listed(limits.map(({ words }) => words))}.` : '';
  const gaps = lines.some(({ y }) => y.some(Number.isNaN)) ? ' A line ends where the mill chokes.' : '';
  return `${sentence(quantity.name)} at each ${factor.name} of the sweep.${across}${gaps}`;
}
