import type { MeasuredSample } from '../../scenario/measurement/measured-sample.ts';
import type { Reading } from '../../scenario/measurement/read-measurement.ts';
import { REPEATABILITY_SOURCE } from '../../scenario/measurement/repeatability.ts';
import type { Averaged } from '../../scenario/measurement/replicates.ts';
import { summarise } from '../../trials/summary.ts';

/** A file and what was read from it. */
export interface NamedReading {
  readonly file: string;
  readonly reading: Reading;
}

/** What exports were understood to say. */
export interface ReadExports {
  readonly readings: readonly NamedReading[];
  readonly samples: readonly MeasuredSample[];
  readonly averaged: Averaged | undefined;
  /** [kg/m³] */
  readonly density: number | undefined;
}

/** Keys of `read --json`; every one carries its unit. */
export function readKeys({ readings, samples, averaged, density }: ReadExports) {
  return {
    files: readings.map(({ file, reading }) => ({
      file,
      encoding: reading.encoding,
      separator: reading.separator,
      decimal: reading.decimal,
      unread: reading.unread,
    })),
    samples: samples.map((sample) => sampleKeys(sample, density)),
    ...(averaged
      ? {
          average: { ...sampleKeys(averaged.sample, density), repeats: averaged.repeats },
          scatter: averaged.scatter.map(({ share, mean, variation, limit, accepted }) => ({
            share,
            mean_um: mean * 1e6,
            variation,
            limit,
            accepted,
            source: REPEATABILITY_SOURCE,
          })),
        }
      : {}),
  };
}

/** `x97.5` of a share 0.975. */
export function shareSymbol(share: number): string {
  return `x${Number((100 * share).toPrecision(4))}`;
}

function sampleKeys(sample: MeasuredSample, density: number | undefined) {
  const summary = summarise(sample);
  return {
    name: sample.name,
    kind: sample.kind,
    method: sample.method ?? null,
    basis: sample.basis,
    understood: sample.understood,
    remarks: sample.remarks,
    ...Object.fromEntries(
      summary.percentiles.map(({ share, size }) => [`${shareSymbol(share)}_um`, size * 1e6]),
    ),
    span: summary.span,
    d32_um: summary.sauter * 1e6,
    d43_um: summary.massMean * 1e6,
    surface_m2_per_cm3: summary.volumeSurface * 1e-6,
    ...(density ? { surface_m2_per_kg: summary.volumeSurface / density } : {}),
    size_um: sample.points.map((point) => point.size * 1e6),
    undersize: sample.points.map((point) => point.undersize),
  };
}
