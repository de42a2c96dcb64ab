import type { LawChoice, Table } from '../model/parameters.ts';
import { FEED_LAWS } from '../model/psd/feed/index.ts';
import { toCase } from '../scenario/operating-point.ts';
import { withinMachine } from '../scenario/outcome/machine-limits.ts';
import type { Solved } from '../scenario/outcome/quantity.ts';
import { type Point, solvePoint } from '../scenario/outcome/solved.ts';
import { asksFeedAtChoke, isMet, marginOf } from '../scenario/outcome/spec.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { withCoefficients } from './fit/coefficients.ts';
import type { Posterior } from './fit/fit.ts';
import { type Draw, disturbed, disturbedEdges, drawsOf } from './fit/predict.ts';
import { setterOf } from './fit/setter.ts';
import { normal, seeded } from './random.ts';
import { MEASUREMENT_ERRORS } from './trial.ts';

/** One possible outcome of running a point: the model's sample, the feed lot that comes, and the analyser's reading. */
export interface CoefficientSample extends Draw {
  /** Size of this lot's feed over that of the scenario. */
  readonly lot: number;
  /** Relative error of size of the analyser: as a whole, and from x50 to x10 and x90. */
  readonly shift: number;
  readonly tilt: number;
}

/** From lot to lot the size of a feed varies by so much (`assumed`, relative standard deviation). */
const LOT_SPREAD = 0.05;
const LOT_STREAM = 0x9e37;

/** Samples from a posterior, seeded; model, feed-lot and analyser spread together. */
export function samplesOf(posterior: Posterior, count: number, seed = 1): CoefficientSample[] {
  const random = seeded(seed ^ LOT_STREAM);
  const { median, tails } = MEASUREMENT_ERRORS.laser;
  const tilt = Math.sqrt(tails ** 2 - median ** 2);
  return drawsOf(posterior, count, seed).map((draw) => ({
    ...draw,
    lot: Math.exp(LOT_SPREAD * normal(random)),
    shift: draw.scatter * median * normal(random),
    tilt: draw.scatter * tilt * normal(random),
  }));
}

/** A scenario's point as it would be measured in one sample. */
export function pointOfSample(scenario: Scenario, posterior: Posterior, sample: CoefficientSample): Point {
  return readingIn(truthOfSample(scenario, posterior, sample), sample);
}

/**
 * `pointOfSample` of one scenario in many samples: paths are looked up once and the model's arrays are used again, so that a
 * point is to be read before the next is solved.
 */
export function pointOfEachSample(
  scenario: Scenario,
  { prior }: Posterior,
): (sample: CoefficientSample) => Point {
  const { wheel } = scenario.settings;
  const inUse = (path: string) =>
    !path.startsWith('machine.wheels.') || path.startsWith(`machine.wheels.${wheel}.`);
  const setter = setterOf(scenario, prior.coefficients, inUse);
  const options = { choke: asksFeedAtChoke(scenario), kept: {} };
  return (sample) => {
    const there = withLot(setter.set(sample.coordinates), sample.lot);
    const point = solvePoint(toCase(there), options);
    return point.status === 'choked' ? point : readingIn({ ...point, ...disturbed(point, sample) }, sample);
  };
}

/** A scenario's point as it is in one sample, whatever an instrument says of it. */
export function truthOfSample(scenario: Scenario, posterior: Posterior, sample: CoefficientSample): Point {
  const there = scenarioOfSample(scenario, posterior, sample);
  const point = solvePoint(toCase(there), { choke: asksFeedAtChoke(scenario) });
  return point.status === 'choked' ? point : { ...point, ...disturbed(point, sample) };
}

/** The same point as the analyser reads it. */
export function readingIn(point: Point, sample: CoefficientSample): Point {
  return point.status === 'choked' ? point : { ...point, ...asRead(point, sample) };
}

/** A scenario with the coefficients and the feed lot of one sample. */
export function scenarioOfSample(
  scenario: Scenario,
  { prior }: Posterior,
  sample: CoefficientSample,
): Scenario {
  return withLot(withCoefficients(scenario, prior.coefficients, sample.coordinates), sample.lot);
}

/** A point solved in a sample with the model's own error and the analyser's laid on. */
function asMeasured(point: Point, sample: CoefficientSample, edges?: Float64Array): Point {
  return point.status === 'choked' ? point : { ...point, ...asRead(disturbed(point, sample, edges), sample) };
}

/** The same for a sample that is asked at many settings: the model's own error is worked out once a grid. */
export function measuringIn(sample: CoefficientSample): (point: Point) => Point {
  let grid: Float64Array | undefined;
  let moved: Float64Array | undefined;
  return (point) => {
    if (point.status === 'choked') return point;
    if (grid !== point.curve.edges) {
      grid = point.curve.edges;
      moved = disturbedEdges(grid, sample);
    }
    return asMeasured(point, sample, moved);
  };
}

/** The curve as the analyser reads it. */
function asRead(solved: Solved, { shift, tilt }: CoefficientSample): Solved {
  const { curve } = solved;
  // below x10 and above x90 the tilt stands still
  const finest = Math.exp(shift - tilt);
  const coarsest = Math.exp(shift + tilt);
  const edges = new Float64Array(curve.edges.length);
  let before = 0;
  for (let i = 0; i < edges.length; i++) {
    const away = (curve.undersize[i]! - 0.5) / 0.4;
    const factor = away <= -1 ? finest : away >= 1 ? coarsest : Math.exp(shift + tilt * away);
    before = Math.max(curve.edges[i]! * factor, before * (1 + 1e-9));
    edges[i] = before;
  }
  return { ...solved, curve: { ...curve, edges } };
}

/** Feed sizes of every component times a factor. */
function withLot(scenario: Scenario, factor: number): Scenario {
  const components = scenario.components.map((one) => ({ ...one, feed: scaledFeed(one.feed, factor) }));
  return { ...scenario, components };
}

/** A feed law with every size in it times a factor. */
export function scaledFeed(feed: LawChoice, factor: number): LawChoice {
  const law = FEED_LAWS[feed.law]!;
  const scaled: Record<string, LawChoice[string]> = { ...feed };
  for (const { name, unit } of law.parameters) {
    const value = feed[name];
    if (unit === 'm' && typeof value === 'number') scaled[name] = value * factor;
  }
  const column = law.table?.columns.findIndex(({ unit }) => unit === 'm') ?? -1;
  for (const [name, value] of Object.entries(feed)) {
    if (column < 0 || !Array.isArray(value)) continue;
    scaled[name] = (value as Table).map(([a, b]): readonly [number, number] =>
      column === 0 ? [a * factor, b] : [a, b * factor],
    );
  }
  return scaled as LawChoice;
}

/** How likely a point meets its spec. */
export interface Chance {
  /** Of each line. */
  readonly lines: readonly number[];
  /** Of all lines together. */
  readonly whole: number;
  /** Share of samples in which the mill chokes. */
  readonly chokes: number;
  /** Standard error of `whole` from the number of samples. */
  readonly error: number;
  /** Margins of each line over the samples, SI, ascending; a sample that chokes is −∞. */
  readonly margins: readonly Float64Array[];
}

/** How often each line of the spec and the whole of it are met over samples. */
export function chanceOf(
  scenario: Scenario,
  posterior: Posterior,
  samples: readonly CoefficientSample[],
): Chance {
  return chanceOver(
    scenario.spec,
    samples.map((sample) => pointOfSample(scenario, posterior, sample)),
  );
}

/** The same of points solved already, one a sample. */
export function chanceOver(spec: Scenario['spec'], points: readonly Point[]): Chance {
  const n = points.length;
  const met = spec.map(() => 0);
  const margins = spec.map(() => new Float64Array(n));
  let whole = 0;
  let chokes = 0;
  points.forEach((point, k) => {
    if (point.status === 'choked') chokes++;
    let all = point.status === 'steady' && withinMachine(point);
    spec.forEach((requirement, i) => {
      const margin = point.status === 'steady' ? marginOf(requirement, point) : Number.NEGATIVE_INFINITY;
      const good = isMet(requirement, margin);
      if (good) met[i]!++;
      all &&= good;
      margins[i]![k] = Number.isNaN(margin) ? Number.NEGATIVE_INFINITY : margin;
    });
    if (all) whole++;
  });
  const share = whole / n;
  return {
    lines: met.map((count) => count / n),
    whole: share,
    chokes: chokes / n,
    error: Math.sqrt(Math.max(share * (1 - share), 1 / n) / n),
    margins: margins.map((values) => values.sort()),
  };
}
