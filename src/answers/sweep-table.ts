import { fromShown } from '../scenario/units/display.ts';
import type { FactorColumn } from '../search/window/levels.ts';
import { gridOf, type LevelGrid } from '../search/window/levels.ts';
import type { Measure } from './measure.ts';

/** One factor of a sweep as the page sees it; values in the unit shown, NaN where it changes nothing. */
export interface TableFactor {
  readonly path: string;
  readonly measure: Measure;
  /** Unit as `units/display.ts` names it; empty for names. */
  readonly shownIn: string;
  readonly as?: 'shaft' | 'rim';
  /** Present where values are places of names. */
  readonly names?: readonly string[];
  readonly values: ArrayLike<number>;
}

/** Value of a factor's column, SI; a speed the way the factor states it. */
export function factorSi({ shownIn }: TableFactor, value: number): number {
  return fromShown(value, shownIn);
}

/** One quantity over the points; NaN where it does not exist. */
export interface TableQuantity {
  readonly of: string;
  readonly measure: Measure;
  readonly meaning: string;
  readonly logarithmic: boolean;
  readonly values: ArrayLike<number>;
}

/** Names of the limits that are the machine's, not a requirement of the spec. */
export const MACHINE_LIMITS = { rotor: 'rotor speed', wheel: 'wheel speed', motor: 'motor' } as const;

/** Whether a limit is the machine's own. */
export function isMachineLimit(name: string): boolean {
  return Object.values<string>(MACHINE_LIMITS).includes(name);
}

/** One limit over the points, > 0 inside. */
export interface TableLimit {
  /** Of the spec, or of the machine. */
  readonly kind: 'requirement' | 'machine';
  /** The spec line's text, or `rotor speed`, `wheel speed`, `motor` of the machine. */
  readonly name: string;
  readonly words: string;
  readonly topic: string;
  readonly values: ArrayLike<number>;
}

/** A sweep's points column by column, without anything of the model. */
export interface SweepTable {
  readonly points: number;
  readonly factors: readonly TableFactor[];
  readonly quantities: readonly TableQuantity[];
  /** Settings that no factor shows in the same unit; absent in a page, which has no use for them. */
  readonly settings?: readonly TableQuantity[];
  readonly limits: readonly TableLimit[];
  /** 1 where the whole spec is met and the machine can run; absent without a spec, and in a page, which has no use for it. */
  readonly meets?: ArrayLike<number>;
  /** Feed at choke over feed, less 1; absent where the sweep did not store it. */
  readonly steady?: ArrayLike<number>;
  /** Place in `reasons` where a point chokes, NaN where it runs. */
  readonly reason: ArrayLike<number>;
  readonly reasons: readonly string[];
}

/** Values of a factor as levels are told apart: numbers, or names. */
function levelColumn({ path, names, values }: TableFactor): FactorColumn {
  return { path, values: names ? Array.from(values, (place) => names[place]) : values };
}

/** The grid a sweep's points stand on, if they do. */
export function tableGrid(table: SweepTable): LevelGrid | undefined {
  return gridOf(table.factors.map(levelColumn), table.points);
}

/** @throws Error where the sweep has no such quantity */
export function quantityOf(table: SweepTable, of: string): TableQuantity {
  const found = table.quantities.find((quantity) => quantity.of === of);
  if (!found) throw new Error(`the sweep holds no ${of}`);
  return found;
}

/** Least and greatest of some values. */
export function endsOf(values: ArrayLike<number>): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < values.length; i++) {
    if (values[i]! < low) low = values[i]!;
    if (values[i]! > high) high = values[i]!;
  }
  return [low, high];
}
