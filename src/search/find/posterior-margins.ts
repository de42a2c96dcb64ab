import type { Kept } from '../../model/loop/workspace.ts';
import { machineExcess } from '../../scenario/outcome/machine-limits.ts';
import { marginScale } from '../../scenario/outcome/relative-margin.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import { asksFeedAtChoke, isMet, marginOf } from '../../scenario/outcome/spec.ts';
import { treePath } from '../../scenario/path.ts';
import type { Factor, Scenario } from '../../scenario/scenario.ts';
import { caseMaker, scenarioAt } from '../../sweep/study/point-case.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import {
  type CoefficientSample,
  measuringIn,
  pointOfSample,
  scenarioOfSample,
} from '../../trials/posterior-samples.ts';

/** Margins of every line of the spec in every sample, at any coordinates of a space. */
export interface SampleBench {
  readonly samples: number;
  /** Lines of the spec, and one more: that the mill runs and the machine can do it. */
  readonly lines: number;
  /**
   * Margins at coordinates as shares of their limits, sample by sample and line by line; −1 where the mill chokes or a
   * number does not exist. A margin that misses a strict limit by nothing is below zero.
   *
   * @param samples how many, counted from the first
   */
  readonly marginsAt: (coordinates: Float64Array, samples: number) => Float64Array;
}

/** Margin of a line in a sample where the mill chokes, or where the number does not exist. */
const LOST = -1;
/** Feed rate at which a choked sample counts as half way between one that nearly runs and one that takes nothing [kg/s]. */
const UNIT_FEED = 0.1;
const TOUCHING = -1e-12;

/**
 * Makes samples ready to be asked at many settings. What a sample fixes is prepared once: its coefficients, its fragments and
 * its own error of size; the answers are those of `pointOfSample`.
 */
export function benchOfSamples(
  scenario: Scenario,
  factors: readonly Factor[],
  posterior: Posterior,
  samples: readonly CoefficientSample[],
): SampleBench {
  const { spec } = scenario;
  const lines = spec.length + 1;
  const touched = factors.some((factor) => touches(scenario, factor, posterior));
  const makers = samples.map((sample) =>
    touched
      ? (at: Float64Array) => pointOfSample(scenarioAt(scenario, factors, at), posterior, sample)
      : pointMaker(scenario, factors, posterior, sample),
  );
  return {
    samples: samples.length,
    lines,
    marginsAt: (coordinates, count) => {
      const margins = new Float64Array(count * lines);
      for (let k = 0; k < count; k++) {
        const point = makers[k]!(coordinates);
        for (let i = 0; i < spec.length; i++) margins[k * lines + i] = shareLeft(spec[i]!, point);
        margins[k * lines + spec.length] =
          point.status === 'steady' ? machineMargin(point) : beyondChoke(point);
      }
      return margins;
    },
  };
}

function shareLeft(requirement: Scenario['spec'][number], point: Point): number {
  if (point.status === 'choked') return beyondChoke(point);
  const margin = marginOf(requirement, point);
  if (Number.isNaN(margin)) return LOST;
  const share = margin / marginScale(requirement, point);
  return isMet(requirement, margin) ? share : Math.min(share, TOUCHING);
}

/** 1 where the machine can run the point, else how far it is beyond, as a share of the limit. */
function machineMargin(point: Point & { status: 'steady' }): number {
  const [worst] = machineExcess(point);
  return worst ? Math.max(LOST, 1 - worst.value / worst.limit) : 1;
}

/** A choked sample is lost the more, the less feed it would take. */
function beyondChoke({ state }: Extract<Point, { status: 'choked' }>): number {
  const takes = state.feedAtChoke;
  return takes > 0 ? LOST - 1 / (1 + takes / UNIT_FEED) : LOST - 1;
}

/** Whether the last margin of a sample, that the mill runs, is of a choke. */
export function isChoked(margin: number): boolean {
  return margin < LOST;
}

type PointMaker = (coordinates: Float64Array) => Point;

/** What the sample fixes is prepared once. */
function pointMaker(
  scenario: Scenario,
  factors: readonly Factor[],
  posterior: Posterior,
  sample: CoefficientSample,
): PointMaker {
  const caseAt = caseMaker(scenarioOfSample(scenario, posterior, sample), factors);
  const measured = measuringIn(sample);
  const kept: Kept = {};
  const choke = asksFeedAtChoke(scenario);
  return (coordinates) => {
    const c = caseAt(coordinates);
    const point = solvePoint(c, { kept, choke });
    if (point.status === 'steady') return measured(point);
    // a search must know which way out of a choke
    return choke ? point : solvePoint(c, { kept });
  };
}

/** Whether a factor moves what a sample sets: a coefficient, or anything of material and feed. */
function touches(scenario: Scenario, { path }: Factor, { prior }: Posterior): boolean {
  return Object.keys(scenario.machine.wheels).some((wheel) => {
    const at = { ...scenario, settings: { ...scenario.settings, wheel } };
    const place = (of: string): string => treePath(at, of).join('.');
    const own = place(path);
    return own.startsWith('components.') || prior.coefficients.some((one) => place(one.path) === own);
  });
}
