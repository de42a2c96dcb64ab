import { bracket } from '../../model/numerics/root.ts';
import type { EfficiencyLaw } from '../../model/wheel/efficiency/efficiency-law.ts';
import { EFFICIENCY_LAWS } from '../../model/wheel/efficiency/index.ts';
import { leastSquares } from '../least-squares.ts';
import { closedCurves, type Split } from './split.ts';

/** Grade efficiency of one interval between common sizes. */
export interface GradePoint {
  /** Geometric middle [m]. */
  readonly size: number;
  /** T: share of this size that went to the coarse. */
  readonly toCoarse: number;
  /** Share of the feed in the interval: how much the point can say. */
  readonly weight: number;
}

/** A wheel's sorting, as the model takes it (eqs. 19 and 20). */
export interface GradeFit {
  readonly law: string;
  /** x_c: size with T' = ½ of the reduced curve [m]. */
  readonly cutSize: number;
  /** κ = x25/x75 of the reduced curve, at the loading of the measurement. */
  readonly sharpness: number;
  /** τ: T at the fine end, at the loading of the measurement. */
  readonly bypass: number;
  /** ℓ: share of the coarse that slips round the wheel; 0 where the curves do not show any. */
  readonly leakage: number;
  /** Standard errors of ln x_c, κ, τ and ℓ; NaN where the curves do not close. */
  readonly errors: {
    readonly logCut: number;
    readonly sharpness: number;
    readonly bypass: number;
    readonly leakage: number;
  };
  /** Root mean square of T − fit, weighted by mass. */
  readonly misfit: number;
  /** Coefficients that ended at the end of their range: such a fit is no entry. */
  readonly atBound: readonly string[];
}

const LEAST_WEIGHT = 1e-4;
/** Standard deviation of T in an interval that holds a tenth of the feed (`assumed`; it scales errors only until rescaled). */
const POINT_ERROR = 0.02;
const SHARPNESS_RANGE = [0.1, 0.95] as const;

/** T by interval: (1−γ)ΔQ_C over γΔQ_P + (1−γ)ΔQ_C, from curves made to close. */
export function gradePoints(split: Split): GradePoint[] {
  const { sizes, fines, coarse, finesYield: gamma } = closedCurves(split);
  const points: GradePoint[] = [];
  for (let i = 1; i < sizes.length; i++) {
    const toFines = gamma * (fines[i]! - fines[i - 1]!);
    const toCoarse = (1 - gamma) * (coarse[i]! - coarse[i - 1]!);
    const weight = toFines + toCoarse;
    if (weight < LEAST_WEIGHT) continue;
    points.push({ size: Math.sqrt(sizes[i]! * sizes[i - 1]!), toCoarse: toCoarse / weight, weight });
  }
  return points;
}

/**
 * Cut, sharpness, bypass and leakage by least squares on T = (1−ℓ)(τ + (1−τ) T'(x/x_c; κ)), weighted by the mass in each
 * interval. ℓ is fitted where T stays below 1 far above the cut by more than twice its error, else it is 0.
 *
 * @param points from `gradePoints`
 * @param lawName a law of the efficiency registry
 * @returns undefined where fewer than four points hold mass
 */
export function fitGrade(points: readonly GradePoint[], lawName = 'rosin-rammler'): GradeFit | undefined {
  if (points.length < 4) return undefined;
  const tight = fitWith(points, lawName, false);
  if (!tight || points.length < 6) return tight;
  const leaking = fitWith(points, lawName, true);
  return leaking && leaking.leakage > SHOWN * leaking.errors.leakage && leaking.leakage > LEAST_LEAKAGE
    ? leaking
    : tight;
}

const SHOWN = 2;
const LEAST_LEAKAGE = 5e-4;
const NAMES = ['cut', 'sharpness', 'bypass', 'leakage'] as const;

function fitWith(points: readonly GradePoint[], lawName: string, leaks: boolean): GradeFit | undefined {
  const law = EFFICIENCY_LAWS[lawName]!;
  const start = startOf(points);
  const residuals = (theta: readonly number[]): Float64Array =>
    Float64Array.from(points, ({ size, toCoarse, weight }) => {
      const fitted = efficiencyAt(law, theta, size);
      return ((toCoarse - fitted) * Math.sqrt(10 * weight)) / POINT_ERROR;
    });
  const span = [points[0]!.size, points[points.length - 1]!.size] as const;
  const low = Math.max(SHARPNESS_RANGE[0], law.sharpnessRange[0]);
  const high = Math.min(SHARPNESS_RANGE[1], law.sharpnessRange[1]);
  const lower = [Math.log(span[0]), low, 0, ...(leaks ? [0] : [])];
  const upper = [Math.log(span[1]), high, 0.9, ...(leaks ? [0.5] : [])];
  const solution = leastSquares({ residuals, lower, upper, steps: lower.map(() => 1e-4) }, [
    Math.log(start.cut),
    Math.min(high, Math.max(low, 0.6)),
    start.bypass,
    ...(leaks ? [start.leakage] : []),
  ]);
  if (!solution) return undefined;
  const freedom = Math.max(1, points.length - lower.length);
  const scale = solution.cost / freedom;
  const error = (k: number): number => Math.sqrt(scale * solution.covariance.get(k, k));
  const [logCut, sharpness, bypass, leakage] = solution.parameters as [number, number, number, number?];
  const mass = points.reduce((sum, point) => sum + point.weight, 0);
  const square = points.reduce(
    (sum, { size, toCoarse, weight }) =>
      sum + weight * (toCoarse - efficiencyAt(law, solution.parameters, size)) ** 2,
    0,
  );
  // no bypass and no leakage are ends of their ranges that a wheel may well have
  const ends = solution.parameters.map(
    (value, k) => (k < 2 && near(value, lower[k]!)) || near(value, upper[k]!),
  );
  return {
    law: lawName,
    cutSize: Math.exp(logCut),
    sharpness,
    bypass,
    leakage: leakage ?? 0,
    errors: { logCut: error(0), sharpness: error(1), bypass: error(2), leakage: leaks ? error(3) : 0 },
    misfit: Math.sqrt(square / mass),
    atBound: NAMES.filter((_, k) => ends[k]),
  };
}

/** T at a size [m] by a fitted grade efficiency. */
export function gradeAt({ law, cutSize, sharpness, bypass, leakage }: GradeFit, size: number): number {
  return efficiencyAt(EFFICIENCY_LAWS[law]!, [Math.log(cutSize), sharpness, bypass, leakage], size);
}

function near(value: number, bound: number): boolean {
  return Math.abs(value - bound) < 1e-3;
}

function efficiencyAt(
  law: EfficiencyLaw,
  [logCut, sharpness, bypass, leakage = 0]: readonly number[],
  size: number,
): number {
  const choice = { law: law.name };
  const shape = law.shape(sharpness!, choice);
  const kept = bypass! + (1 - bypass!) * (1 - law.passing(size / Math.exp(logCut!), shape, choice));
  return (1 - leakage) * kept;
}

function startOf(points: readonly GradePoint[]): { cut: number; bypass: number; leakage: number } {
  const bypass = Math.min(0.5, Math.min(...points.map((point) => point.toCoarse)));
  const half = bypass + (1 - bypass) / 2;
  const above = points.findIndex((point) => point.toCoarse >= half);
  const at = points[above < 0 ? points.length - 1 : above]!;
  const top = Math.max(...points.map((point) => point.toCoarse));
  return { cut: at.size, bypass: Math.max(0, bypass), leakage: Math.min(0.4, Math.max(1e-3, 1 - top)) };
}

/**
 * Cut size from the mass split and the feed curve alone: the x_c at which ∫(1−T) dQ_F is the fines yield, for the
 * Rosin–Rammler law and a sharpness assumed (after the idea of Plitt & Kawatra 1979; within about 10 % where the true sharpness is ordinary).
 *
 * @param feed cumulative undersize of the feed at a size [m]
 * @param range sizes between which the feed lies [m]
 * @param finesYield γ
 * @param sharpness κ assumed
 * @returns x_c [m]
 */
export function cutFromSplit(
  feed: (size: number) => number,
  range: readonly [number, number],
  finesYield: number,
  sharpness = 0.5,
): number {
  const choice = { law: 'rosin-rammler' };
  const law = EFFICIENCY_LAWS[choice.law]!;
  const shape = law.shape(sharpness, choice);
  const steps = 400;
  const ratio = (range[1] / range[0]) ** (1 / steps);
  const yieldAt = (cut: number): number => {
    let sum = feed(range[0]) * law.passing(range[0] / cut, shape, choice);
    for (let i = 0; i < steps; i++) {
      const low = range[0] * ratio ** i;
      const share = feed(low * ratio) - feed(low);
      sum += share * law.passing((low * Math.sqrt(ratio)) / cut, shape, choice);
    }
    return sum;
  };
  const tooFine = (cut: number) => yieldAt(cut) < finesYield;
  const left = bracket(tooFine, range[0], range[1], { within: 1e-9, byRatio: true });
  return Math.sqrt(left.holds * left.fails);
}
