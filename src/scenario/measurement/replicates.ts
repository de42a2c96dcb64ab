import { percentileOf, shareBelow } from './measured-curve.ts';
import type { MeasuredSample, SizePoint } from './measured-sample.ts';
import { type Scatter, scatterOf } from './repeatability.ts';

/** Repeats of one sample and what they agree on. */
export interface Averaged {
  readonly sample: MeasuredSample;
  readonly repeats: number;
  /** Standard deviation of Q (of ln x for percentiles) at each point, divisor n − 1; empty for one repeat. */
  readonly deviations: readonly number[];
  /** Scatter of x10, x50, x90 where all repeats give them. */
  readonly scatter: readonly Scatter[];
}

/**
 * Mean of repeats: Q averaged at the sizes of the first, or ln x averaged at the shares where percentiles alone are
 * known. Sizes or shares that a repeat does not give are left out.
 *
 * @param samples one or more, of one method and kind
 * @returns the mean, or why these are no repeats of each other, in words
 */
export function averageRepeats(samples: readonly MeasuredSample[]): Averaged | string {
  const first = samples[0]!;
  if (samples.length === 1) return { sample: first, repeats: 1, deviations: [], scatter: [] };
  const kinds = new Set(samples.map((sample) => sample.kind));
  if (kinds.size > 1) return `repeats must be of one kind, are ${[...kinds].join(' and ')}`;
  const methods = new Set(samples.map((sample) => sample.method ?? 'unstated'));
  if (methods.size > 1) return `repeats must be of one method, are ${[...methods].join(' and ')}`;
  const { points, deviations } = first.kind === 'percentiles' ? meanSizes(samples) : meanShares(samples);
  if (points.length === 0) return 'the repeats have no size or percentile in common';
  const scatter = scatterOf((i, share) => percentileOf(samples[i]!, share), samples.length);
  const sample: MeasuredSample = {
    ...first,
    points,
    stated: [],
    understood: `mean of ${samples.length} repeats; ${first.understood}`,
    remarks: [...new Set(samples.flatMap((one) => one.remarks))],
  };
  return {
    sample,
    repeats: samples.length,
    deviations,
    scatter: scatter.filter((one) => Number.isFinite(one.mean)),
  };
}

function meanShares(samples: readonly MeasuredSample[]): { points: SizePoint[]; deviations: number[] } {
  const points: SizePoint[] = [];
  const deviations: number[] = [];
  for (const { size } of samples[0]!.points) {
    const shares = samples.map((sample) => shareBelow(sample, size));
    if (!shares.every(Number.isFinite)) continue;
    const { mean, deviation } = spread(shares);
    points.push({ size, undersize: mean });
    deviations.push(deviation);
  }
  return { points, deviations };
}

function meanSizes(samples: readonly MeasuredSample[]): { points: SizePoint[]; deviations: number[] } {
  const points: SizePoint[] = [];
  const deviations: number[] = [];
  for (const { undersize } of samples[0]!.points) {
    const sizes = samples.map((sample) => Math.log(percentileOf(sample, undersize)));
    if (!sizes.every(Number.isFinite)) continue;
    const { mean, deviation } = spread(sizes);
    points.push({ size: Math.exp(mean), undersize });
    deviations.push(deviation);
  }
  return { points, deviations };
}

function spread(values: readonly number[]): { mean: number; deviation: number } {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1);
  return { mean, deviation: Math.sqrt(variance) };
}
