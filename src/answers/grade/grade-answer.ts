import { InputError } from '../../scenario/errors.ts';
import { shareBelow } from '../../scenario/measurement/measured-curve.ts';
import type { MeasuredSample } from '../../scenario/measurement/measured-sample.ts';
import { averageRepeats } from '../../scenario/measurement/replicates.ts';
import { withAnalyserErrors } from '../../trials/grade/analyser-errors.ts';
import { cutFromSplit, fitGrade, gradePoints } from '../../trials/grade/efficiency.ts';
import { splitOf } from '../../trials/grade/split.ts';
import { wheelEntry } from '../../trials/grade/wheel-entry.ts';
import { mixedMethods } from '../../trials/method.ts';
import type { NamedReading } from '../read/read-keys.ts';
import type { Graded } from './grade-document.ts';

/** What is known of the test beside its three curves. */
export interface GradeWish {
  /** Grade-efficiency law to fit. */
  readonly law: string;
  /** Fines over feed by weight, where it was weighed. */
  readonly weighed?: number | undefined;
  /** Mass to the wheel over mass of air in the test [kg/kg]. */
  readonly loading?: number | undefined;
  /** Where the curves come from, for the entry of the wheel. */
  readonly source: string;
}

/**
 * How a wheel sorted, from readings of its feed, fines and coarse; all samples of one reading are repeats of one stream.
 *
 * @returns why there is no answer, where there is none
 * @throws InputError where repeats cannot be averaged, or the curves are by different methods
 */
export function gradeAnswer(readings: readonly NamedReading[], wish: GradeWish): Graded | string {
  const [feed, fines, coarse] = readings.map(meanOf) as [MeasuredSample, MeasuredSample, MeasuredSample];
  const mixed = mixedMethods([feed, fines, coarse]);
  if (mixed) throw new InputError([{ place: 'feed, fines, coarse', message: mixed }]);
  const { law, weighed, loading, source } = wish;
  const split = splitOf(feed, fines, coarse, weighed);
  if (typeof split === 'string') return split;
  const points = gradePoints(split);
  const bare = fitGrade(points, law);
  if (!bare) return 'too few sizes hold mass in both streams for a grade efficiency';
  const fit = withAnalyserErrors(bare, { feed, fines, coarse }, split, weighed);
  const estimate = cutFromSplit((size) => shareBelow(feed, size) || 0, rangeOf(feed), split.finesYield);
  const entry = wheelEntry(fit, {
    ...(loading === undefined ? {} : { loading }),
    source,
    closes: split.closes,
  });
  return { split, points, fit, estimate, entry };
}

function meanOf({ file, reading }: NamedReading): MeasuredSample {
  const averaged = averageRepeats(reading.samples);
  if (typeof averaged === 'string') throw new InputError([{ place: file, message: averaged }]);
  return averaged.sample;
}

function rangeOf(sample: MeasuredSample): readonly [number, number] {
  return [sample.points[0]!.size, sample.points[sample.points.length - 1]!.size];
}
