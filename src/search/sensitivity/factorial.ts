import { type Indices, moments, withError } from './estimate.ts';

/** Rows numbered by group: each row's group, and how many groups there are. */
interface Grouping {
  readonly of: Int32Array;
  readonly count: number;
}

/**
 * Indices of a grid by the analysis of variance of its own levels (Fisher; the form with shares of variance `derived`
 * from Var y = Var E[y|·] + E Var[y|·]). Exact for the levels taken; the bounds tell how far the answer depends on them:
 * a jackknife that leaves out one level of one factor at a time, of factors with numbers and three levels or more.
 *
 * @param x column of each factor; NaN where it changes nothing
 * @param y without NaN
 * @param named whether a factor's levels are names, which are no sample of a range
 */
export function factorialIndices(
  x: readonly Float64Array[],
  y: Float64Array,
  named: readonly boolean[],
): Indices[] {
  const levels = x.map(groupByValue);
  const others = x.map((_, i) => groupByOthers(levels, i, y.length));
  const all = new Uint8Array(y.length).fill(1);
  const values = sharesOf(x, y, levels, others, all);
  const errors = values.map(() => ({ first: 0, total: 0 }));
  levels.forEach(({ of, count }, j) => {
    if (named[j] || count < 3) return;
    const left = Array.from({ length: count }, (_, level) => {
      const kept = Uint8Array.from(of, (own) => (own === level ? 0 : 1));
      return sharesOf(x, y, levels, others, kept);
    });
    values.forEach((_, i) => {
      errors[i]!.first += jackknife(left.map((shares) => shares[i]!.first));
      errors[i]!.total += jackknife(left.map((shares) => shares[i]!.total));
    });
  });
  return values.map(({ first, total }, i) => ({
    first: withError(first, Math.sqrt(errors[i]!.first)),
    total: withError(total, Math.sqrt(errors[i]!.total)),
  }));
}

/** Squared standard error from the values with one level left out. */
function jackknife(values: readonly number[]): number {
  const { variance } = moments(Float64Array.from(values));
  return (values.length - 1) * variance;
}

/** First and total share of each factor over the rows kept. */
function sharesOf(
  x: readonly Float64Array[],
  y: Float64Array,
  levels: readonly Grouping[],
  others: readonly Grouping[],
  kept: Uint8Array,
): { first: number; total: number }[] {
  const { variance } = moments(y.filter((_, r) => kept[r] === 1));
  return levels.map((grouping, i) => ({
    first: 1 - within(y, grouping, kept, undefined) / variance,
    total: within(y, others[i]!, kept, x[i]!) / variance,
  }));
}

/**
 * Mean variance within groups, each weighted by its rows. A row alone in its group tells nothing and is left out,
 * unless its factor changes nothing there: then it tells that the variance is 0.
 */
function within(
  y: Float64Array,
  { of, count }: Grouping,
  kept: Uint8Array,
  x: Float64Array | undefined,
): number {
  const n = new Float64Array(count);
  const mean = new Float64Array(count);
  const sum = new Float64Array(count);
  const idle = new Uint8Array(count);
  for (let r = 0; r < y.length; r++) {
    if (kept[r] === 0) continue;
    const g = of[r]!;
    n[g]!++;
    const step = y[r]! - mean[g]!;
    mean[g]! += step / n[g]!;
    sum[g]! += step * (y[r]! - mean[g]!);
    if (x !== undefined && Number.isNaN(x[r])) idle[g] = 1;
  }
  let rows = 0;
  let squares = 0;
  for (let g = 0; g < count; g++) {
    if (x !== undefined && n[g] === 1 && idle[g] === 0) continue;
    rows += n[g]!;
    squares += sum[g]!;
  }
  return rows === 0 ? Number.NaN : squares / rows;
}

function groupByValue(x: Float64Array): Grouping {
  const known = new Map<number, number>();
  const of = Int32Array.from(x, (value) => {
    let group = known.get(value);
    if (group === undefined) {
      group = known.size;
      known.set(value, group);
    }
    return group;
  });
  return { of, count: known.size };
}

/** Rows that agree in every factor but one. */
function groupByOthers(levels: readonly Grouping[], but: number, rows: number): Grouping {
  const keys = new Float64Array(rows);
  levels.forEach(({ of, count }, j) => {
    if (j === but) return;
    for (let r = 0; r < rows; r++) keys[r] = keys[r]! * count + of[r]!;
  });
  return groupByValue(keys);
}
