import { percentileOf } from '../scenario/measurement/measured-curve.ts';
import type { MeasuredSample } from '../scenario/measurement/measured-sample.ts';

/** What is said of a measured sample in one line of a table. Sizes [m]; NaN where it was not measured. */
export interface SampleSummary {
  readonly percentiles: readonly { readonly share: number; readonly size: number }[];
  /** (x90 − x10)/x50. */
  readonly span: number;
  /** d43: mass-mean size [m]. */
  readonly massMean: number;
  /** d32: Sauter mean size [m]. */
  readonly sauter: number;
  /** 6/d32: surface of spheres per volume [m²/m³]. */
  readonly volumeSurface: number;
}

const SHARES: readonly number[] = [0.1, 0.5, 0.9, 0.95, 0.97, 0.99];
/** Mass outside the measured range beyond which a mean size is not given. */
const OUTSIDE_LIMIT = 0.02;

/**
 * Percentiles, span and mean sizes of a sample (ISO 9276-2 moments: d43 = Σ x̄ ΔQ, d32 = 1/Σ(ΔQ/x̄), x̄ the geometric
 * middle of each interval). A curve cut off by more than 2 % at an end has no mean that can be given.
 */
export function summarise(sample: MeasuredSample): SampleSummary {
  const percentiles = SHARES.map((share) => ({ share, size: percentileOf(sample, share) }));
  const at = (share: number): number => percentileOf(sample, share);
  const { massMean, sauter } =
    sample.kind === 'curve' ? means(sample) : { massMean: Number.NaN, sauter: Number.NaN };
  return { percentiles, span: (at(0.9) - at(0.1)) / at(0.5), massMean, sauter, volumeSurface: 6 / sauter };
}

function means({ points }: MeasuredSample): { massMean: number; sauter: number } {
  const last = points[points.length - 1]!;
  const first = points[0]!;
  let mass = 0;
  let sum = 0;
  let inverse = 0;
  points.forEach(({ size, undersize }, i) => {
    const lower = points[i - 1] ?? { size: size ** 2 / points[1]!.size, undersize: 0 };
    const share = undersize - lower.undersize;
    const middle = Math.sqrt(lower.size * size);
    mass += share;
    sum += share * middle;
    inverse += share / middle;
  });
  return {
    massMean: 1 - last.undersize > OUTSIDE_LIMIT ? Number.NaN : sum / mass,
    sauter: first.undersize > OUTSIDE_LIMIT ? Number.NaN : mass / inverse,
  };
}
