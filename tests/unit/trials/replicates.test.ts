import { describe, expect, it } from 'vitest';
import type { MeasuredSample } from '../../../src/scenario/measurement/measured-sample.ts';
import { repeatabilityLimit, scatterOf } from '../../../src/scenario/measurement/repeatability.ts';
import { averageRepeats } from '../../../src/scenario/measurement/replicates.ts';
import { mixedMethods, sieveAsLaser } from '../../../src/trials/method.ts';
import { close } from '../../close.ts';

const curve = (shares: readonly number[], method: 'laser' | 'sieve' = 'laser'): MeasuredSample => ({
  name: 'one',
  kind: 'curve',
  method,
  basis: 'volume',
  understood: '',
  remarks: [],
  stated: [],
  points: shares.map((undersize, i) => ({ size: 10e-6 * 2 ** i, undersize })),
});

describe('repeats', () => {
  it('are averaged with their scatter', () => {
    const mean = averageRepeats([curve([0, 0.2, 0.6, 1]), curve([0, 0.3, 0.7, 1])]);
    if (typeof mean === 'string') throw new Error(mean);
    expect(mean.sample.points.map((point) => Number(point.undersize.toFixed(9)))).toEqual([0, 0.25, 0.65, 1]);
    close(mean.deviations[1]!, 0.1 / Math.SQRT2, 1e-9);
    // x50 lies at 2^(0.3/0.4) and 2^(0.2/0.4) of 20 µm (linear in ln x), x90 at 2^(0.3/0.4) and 2^(0.2/0.3) of 40 µm
    const variation = (a: number, b: number) => (Math.SQRT2 * (2 ** a - 2 ** b)) / (2 ** a + 2 ** b);
    expect(mean.scatter.map(({ share }) => share)).toEqual([0.1, 0.5, 0.9]);
    close(mean.scatter[1]!.variation, variation(0.75, 0.5), 1e-9);
    close(mean.scatter[2]!.variation, variation(0.75, 2 / 3), 1e-9);
    expect(mean.scatter.map(({ accepted }) => accepted)).toEqual([false, false, true]);
  });

  it('five sub-samples of one layer scatter by more than ISO 13320 accepts of a repeat', () => {
    // Marwick, Putslaagte 1 (CC0): reported d10, d50, d90 [µm]
    const sizes: Readonly<Record<string, readonly number[]>> = {
      '0.1': [10.296, 9.121, 7.323, 5.737, 4.834],
      '0.5': [93.962, 108.014, 104.354, 81.63, 85.063],
      '0.9': [217.0, 281.134, 246.36, 230.443, 213.513],
    };
    const scatter = scatterOf((i, share) => sizes[String(share)]![i]! * 1e-6, 5);
    expect(scatter.map((one) => one.accepted)).toEqual([false, false, false]);
    expect(scatter.map((one) => one.limit)).toEqual([0.1, 0.03, 0.05]);
  });

  it('the limit doubles below 10 µm', () => {
    expect(repeatabilityLimit(0.5, 5e-6)).toBe(0.06);
    expect(repeatabilityLimit(0.5, 50e-6)).toBe(0.03);
  });
});

describe('laser and sieve', () => {
  it('are never mixed silently', () => {
    const both = [curve([0, 0.5, 1]), curve([0, 0.5, 1], 'sieve')];
    expect(mixedMethods(both)).toContain('laserToSieve');
    expect(mixedMethods(both, 1.2)).toBeUndefined();
    expect(averageRepeats(both)).toContain('one method');
    const brought = sieveAsLaser(both[1]!, 1.2);
    close(brought.points[0]!.size, 12e-6, 1e-12);
    expect(brought.remarks.join()).toContain('1.2');
  });
});
