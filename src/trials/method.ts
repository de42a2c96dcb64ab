import type { MeasuredSample } from '../scenario/measurement/measured-sample.ts';

/**
 * A sieve result brought to the scale of the laser by a stated factor: x_laser = factor · x_sieve. A sieve passes a
 * particle by its second dimension, light sees its projection, so the factor is above 1 for anything but spheres and must
 * come from one sample measured both ways. The result still says where it is from.
 *
 * @param factor laser size over sieve size [-], > 0
 */
export function sieveAsLaser(sample: MeasuredSample, factor: number): MeasuredSample {
  return {
    ...sample,
    method: 'laser',
    points: sample.points.map(({ size, undersize }) => ({ size: size * factor, undersize })),
    remarks: [...sample.remarks, `sieve sizes times ${factor} to compare with laser diffraction`],
  };
}

/**
 * Why samples must not be used together as they are: laser and sieve mixed without a factor, or a method not stated.
 *
 * @returns undefined where they may
 */
export function mixedMethods(samples: readonly MeasuredSample[], factor?: number): string | undefined {
  const methods = new Set(samples.map((sample) => sample.method ?? 'unstated'));
  if (methods.size <= 1) return undefined;
  if (methods.has('unstated'))
    return 'some sizes are by a stated method and some are not; state --method for each file';
  if (factor === undefined) {
    return 'laser and sieve sizes are mixed; state laserToSieve, the laser size over the sieve size of one sample measured both ways';
  }
  return undefined;
}
