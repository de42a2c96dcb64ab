import { percentileOf, shareBelow } from '../../scenario/measurement/measured-curve.ts';
import type { MeasuredSample } from '../../scenario/measurement/measured-sample.ts';
import { type Reconciled, reconcile } from '../reconcile.ts';

/** Feed, fines and coarse at the sizes all three give, and the share of the feed that went to the fines. */
export interface Split {
  /** Common sizes [m], ascending. */
  readonly sizes: readonly number[];
  readonly feed: readonly number[];
  readonly fines: readonly number[];
  readonly coarse: readonly number[];
  /** γ: fines over feed, by mass. */
  readonly finesYield: number;
  /** Standard error of γ from the scatter of the closure; NaN where γ was given, or the curves do not close. */
  readonly yieldError: number;
  /** Whether γ was weighed rather than found from the curves. */
  readonly given: boolean;
  /** Largest |Q_feed − γ Q_fines − (1−γ) Q_coarse|, its size [m], and the root mean square. */
  readonly closure: { readonly largest: number; readonly at: number; readonly rms: number };
  /** Share of Q that the analyser's scatter explains; closure beyond twice this does not close. */
  readonly closes: boolean;
}

/** Standard deviation of one measured Q taken for the closure test (`assumed`: laser repeats of a split sample). */
const CURVE_ERROR = 0.01;
const LEAST_SIZES = 4;

/**
 * Fines yield and closure of three measured curves: Q_F = γ Q_P + (1−γ) Q_C at every size, so
 * γ = Σ(Q_F−Q_C)(Q_P−Q_C)/Σ(Q_P−Q_C)² (two-product formula by least squares, common practice).
 *
 * @param finesYield γ where it was weighed
 * @returns the split, or why there is none, in words
 */
export function splitOf(
  feed: MeasuredSample,
  fines: MeasuredSample,
  coarse: MeasuredSample,
  finesYield?: number,
): Split | string {
  const sizes = commonSizes([feed, fines, coarse]);
  if (sizes.length < LEAST_SIZES)
    return `the three curves have ${sizes.length} sizes in common; ${LEAST_SIZES} are needed`;
  const at = (sample: MeasuredSample): number[] => sizes.map((size) => shareBelow(sample, size));
  const f = at(feed);
  const p = at(fines);
  const c = at(coarse);
  let numerator = 0;
  let denominator = 0;
  for (let i = 0; i < sizes.length; i++) {
    numerator += (f[i]! - c[i]!) * (p[i]! - c[i]!);
    denominator += (p[i]! - c[i]!) ** 2;
  }
  if (denominator < 1e-6) return 'fines and coarse have the same curve, so nothing was sorted';
  const finer = sizes.reduce((sum, _, i) => sum + p[i]! - c[i]!, 0);
  if (finer < 0) {
    const [x, y] = [fines, coarse].map((sample) => micrometres(percentileOf(sample, 0.5)));
    return `the fines (x50 ${x} µm) are coarser than the coarse (x50 ${y} µm): the two files are exchanged; name the feed, the fines, then the coarse`;
  }
  const gamma = finesYield ?? numerator / denominator;
  if (!(gamma > 0 && gamma < 1))
    return `the curves give a fines yield of ${(100 * gamma).toPrecision(3)} %, so they do not belong together`;
  const gaps = sizes.map((_, i) => f[i]! - gamma * p[i]! - (1 - gamma) * c[i]!);
  const worst = gaps.reduce((a, gap, i) => (Math.abs(gap) > Math.abs(gaps[a]!) ? i : a), 0);
  const rms = Math.sqrt(gaps.reduce((sum, gap) => sum + gap * gap, 0) / gaps.length);
  const error = CURVE_ERROR * Math.sqrt(1 + gamma ** 2 + (1 - gamma) ** 2);
  const closes = Math.abs(gaps[worst]!) <= 2 * error;
  return {
    sizes,
    feed: f,
    fines: p,
    coarse: c,
    finesYield: gamma,
    yieldError:
      finesYield === undefined && closes ? Math.max(rms, CURVE_ERROR) / Math.sqrt(denominator) : Number.NaN,
    given: finesYield !== undefined,
    closure: { largest: gaps[worst]!, at: sizes[worst]!, rms },
    closes,
  };
}

/** The three curves adjusted at each size so that they close at γ, each with the same error. */
export function closedCurves(split: Split): Split {
  const { finesYield: gamma } = split;
  const rows: Reconciled[] = split.sizes.map((_, i) =>
    reconcile([split.feed[i]!, split.fines[i]!, split.coarse[i]!], [1, 1, 1], [[1, -gamma, gamma - 1]]),
  );
  const column = (k: number): number[] => {
    let reached = 0;
    return rows.map((row) => {
      reached = Math.min(1, Math.max(reached, row.values[k]!));
      return reached;
    });
  };
  return { ...split, feed: column(0), fines: column(1), coarse: column(2) };
}

function micrometres(size: number): string {
  return Number.isFinite(size) ? Number((size * 1e6).toPrecision(3)).toString() : '–';
}

function commonSizes(samples: readonly MeasuredSample[]): number[] {
  const low = Math.max(...samples.map((sample) => sample.points[0]!.size));
  const high = Math.min(...samples.map(topOf));
  const finest = samples.reduce((a, b) => (b.points.length > a.points.length ? b : a));
  const sizes = finest.points.map((point) => point.size);
  return sizes.filter((size) => size >= low * (1 - 1e-9) && size <= high * (1 + 1e-9));
}

/** A curve that reaches 100 % is known above its last size too. */
function topOf(sample: MeasuredSample): number {
  const last = sample.points[sample.points.length - 1]!;
  return last.undersize > 1 - 1e-6 ? Number.POSITIVE_INFINITY : last.size;
}
