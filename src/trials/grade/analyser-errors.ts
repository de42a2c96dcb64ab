import type { MeasuredSample } from '../../scenario/measurement/measured-sample.ts';
import { normal, seeded } from '../random.ts';
import { MEASUREMENT_ERRORS } from '../trial.ts';
import { fitGrade, type GradeFit, gradePoints } from './efficiency.ts';
import { type Split, splitOf } from './split.ts';

/** The three streams round a wheel. */
interface Streams {
  readonly feed: MeasuredSample;
  readonly fines: MeasuredSample;
  readonly coarse: MeasuredSample;
}

const DRAWS = 60;
/** Scatter of an analyser between samples, as a share of the repeatability limit (campaign prior: about 0.6). */
const SCATTER = 0.6;
/** Share of draws that must give a fit again for an error to be stated. */
const ENOUGH = 0.8;

/**
 * A fit with standard errors from the scatter of its points and from the analyser together. Each curve errs in size as a
 * whole and by a tilt, drawn anew for each stream and carried through split and fit; what the instrument errs by in all
 * three alike moves the cut alone. Curves that do not close have no errors: what is wrong with them is not known.
 *
 * @param yieldGiven γ where it was weighed
 * @param seed the same seed gives the same errors
 */
export function withAnalyserErrors(
  fit: GradeFit,
  streams: Streams,
  split: Split,
  yieldGiven: number | undefined,
  seed = 1,
): GradeFit {
  const none = { logCut: Number.NaN, sharpness: Number.NaN, bypass: Number.NaN, leakage: Number.NaN };
  if (!split.closes) return { ...fit, errors: none };
  const random = seeded(seed);
  const fits: GradeFit[] = [];
  for (let i = 0; i < DRAWS; i++) {
    const [feed, fines, coarse] = [streams.feed, streams.fines, streams.coarse].map((one) =>
      misread(one, random),
    );
    const moved = splitOf(feed!, fines!, coarse!, yieldGiven);
    const found = typeof moved === 'string' ? undefined : fitGrade(gradePoints(moved), fit.law);
    if (found) fits.push(found);
  }
  if (fits.length < ENOUGH * DRAWS) return { ...fit, errors: none };
  const common =
    streams.feed.method === 'sieve' ? MEASUREMENT_ERRORS.sieve.opening : MEASUREMENT_ERRORS.laser.median;
  const error = (of: (one: GradeFit) => number, scatter: number, more = 0): number =>
    Math.hypot(scatter, deviation(fits.map(of)), more);
  return {
    ...fit,
    errors: {
      logCut: error((one) => Math.log(one.cutSize), fit.errors.logCut, common),
      sharpness: error((one) => one.sharpness, fit.errors.sharpness),
      bypass: error((one) => one.bypass, fit.errors.bypass),
      leakage: fit.leakage > 0 ? error((one) => one.leakage, fit.errors.leakage) : 0,
    },
  };
}

/** A curve as the analyser might have read the sample again: ln x moved as a whole, and tilted about its median. */
function misread(sample: MeasuredSample, random: ReturnType<typeof seeded>): MeasuredSample {
  const { laser, sieve } = MEASUREMENT_ERRORS;
  const [median, tails] =
    sample.method === 'sieve' ? [sieve.opening, sieve.opening] : [laser.median, laser.tails];
  const shift = SCATTER * median * normal(random);
  const tilt = SCATTER * Math.sqrt(tails ** 2 - median ** 2) * normal(random);
  const points = sample.points.map(({ size, undersize }) => ({
    size: size * Math.exp(shift + tilt * Math.max(-1, Math.min(1, (undersize - 0.5) / 0.4))),
    undersize,
  }));
  return {
    ...sample,
    points: points.map((point, i) =>
      i === 0 ? point : { ...point, size: Math.max(point.size, points[i - 1]!.size * (1 + 1e-9)) },
    ),
  };
}

function deviation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}
