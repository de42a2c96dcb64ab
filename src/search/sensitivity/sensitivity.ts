import type { StoredStudy } from '../../sweep/store/stored-study.ts';
import { type Axis, axisOf } from './axis.ts';
import { type EffectLevel, mainEffect } from './effects.ts';
import { type Indices, moments } from './estimate.ts';
import { exchangeIndices } from './exchange.ts';
import { factorialIndices } from './factorial.ts';
import { regressionIndices } from './regression.ts';

/** How the indices were found, from the sweep's design. */
type SensitivityMethod = 'exchange' | 'factorial' | 'regression';

/** What one factor does to a quantity. */
interface FactorSensitivity {
  /** Head of the factor's column. */
  readonly factor: string;
  readonly effect: readonly EffectLevel[];
  /** Absent where the rows do not carry them. */
  readonly indices?: Indices;
}

/** Which factors a quantity follows, over the rows of a sweep. */
export interface Sensitivity {
  readonly mean: number;
  readonly variance: number;
  /** Rows with a value. */
  readonly used: number;
  /** Rows without: choked, or the quantity does not exist there. */
  readonly without: number;
  readonly method: SensitivityMethod;
  readonly factors: readonly FactorSensitivity[];
  /** What a reader should know before trusting the indices. */
  readonly notes: readonly string[];
}

/** Rows of a sweep in the order of their index; `columns` by head, as `StoreReader.rows` gives them. */
interface SensitivityRows {
  readonly index: Float64Array;
  readonly values: Readonly<Record<string, Float64Array>>;
}

/**
 * Main effects and Sobol indices of one quantity from the rows of a sweep.
 *
 * @param stored design and columns
 * @param rows factor columns and the quantity's
 * @param head of the quantity's column
 */
export function sensitivityOf(
  stored: Pick<StoredStudy, 'study' | 'columns'>,
  rows: SensitivityRows,
  head: string,
): Sensitivity {
  const { plan } = stored.study;
  const heads = stored.columns.filter(({ role }) => role === 'factor').map(({ name }) => name);
  const x = heads.map((name) => rows.values[name]!);
  const y = rows.values[head]!;
  const axes = plan.factors.map((factor, j) => axisOf(factor, x[j]!));
  const present = Array.from(y.keys()).filter((r) => !Number.isNaN(y[r]));
  const own = Float64Array.from(present, (r) => y[r]!);
  const { mean, variance } = moments(own);
  const table = { axes, x: x.map((column) => Float64Array.from(present, (r) => column[r]!)), y: own };
  const { method, indices, notes } = indicesBy(plan.design, table, rows.index, y, variance);
  return {
    mean,
    variance,
    used: own.length,
    without: y.length - own.length,
    method,
    factors: heads.map((factor, j) => ({
      factor,
      effect: mainEffect(axes[j]!, x[j]!, y),
      ...(indices === undefined ? {} : { indices: indices[j]! }),
    })),
    notes: [...notes, ...missingNote(own.length, y.length)],
  };
}

interface Table {
  readonly axes: readonly Axis[];
  readonly x: readonly Float64Array[];
  readonly y: Float64Array;
}

interface Found {
  readonly method: SensitivityMethod;
  readonly indices?: readonly Indices[] | undefined;
  readonly notes: readonly string[];
}

function indicesBy(
  design: string,
  table: Table,
  index: Float64Array,
  all: Float64Array,
  variance: number,
): Found {
  const { axes, x, y } = table;
  const method: SensitivityMethod =
    design === 'sensitivity' ? 'exchange' : design === 'grid' ? 'factorial' : 'regression';
  if (!(variance > 0))
    return { method, notes: ['does not vary over these points: no share of variance to give'] };
  if (design === 'one-at-a-time')
    return { method, notes: ['one factor at a time shows no interactions: main effects only'] };
  if (method === 'factorial') {
    const named = axes.map(({ kind }) => kind === 'names');
    const indices = factorialIndices(x, y, named);
    return { method, indices, notes: indices.some(isTied) ? [TIED] : [] };
  }
  if (method === 'exchange') {
    const indices = exchangeIndices(inOrder(index, all), axes.length);
    return { method, indices, notes: indices === undefined ? [TOO_FEW] : [] };
  }
  const found = regressionIndices(axes, x, y);
  if (found === undefined) return { method, notes: [TOO_FEW] };
  const percent = Number((100 * found.unexplained).toPrecision(2));
  const notes =
    found.unexplained > POORLY ? [`a polynomial leaves ${percent} % of the variance unexplained`] : [];
  return { method, indices: found.indices, notes };
}

/** Share left unexplained that is worth a word. */
const POORLY = 0.05;

/**
 * On a whole grid a factor's total is never less than its share alone. Where points are missing (choked) the factors left
 * hang together, and the share alone holds part of what others do (`published`: Kucherenko, Tarantola & Annoni 2012,
 * dependent inputs).
 */
function isTied({ first, total }: Indices): boolean {
  return first.value > total.value + 1e-9;
}

const TIED =
  "choked points make the factors correlated: a factor's first-order index may exceed its total index and include effects of others";

const TOO_FEW = 'too few points with a value for indices: main effects only';

/** Values by index, NaN where a row is missing. */
function inOrder(index: Float64Array, y: Float64Array): Float64Array {
  const last = index.at(-1) ?? -1;
  const values = new Float64Array(last + 1).fill(Number.NaN);
  for (let r = 0; r < index.length; r++) values[index[r]!] = y[r]!;
  return values;
}

function missingNote(used: number, rows: number): string[] {
  if (used === rows) return [];
  const percent = Number((100 * (1 - used / rows)).toPrecision(2));
  return [`${percent} % of the points have no value (choked): the shares hold for the others`];
}
