import { sideOf } from '../../scenario/read/calibration.ts';
import { type Coefficient, coordinateOf, numberAt, numbersAt } from '../fit/coefficient.ts';
import { relativeSpread } from '../fit/evidence-spread.ts';
import type { Posterior } from '../fit/fit.ts';
import { type Estimate, type RandomEffects, randomEffects } from './random-effects.ts';

/** A campaign's calibration as it is pooled. */
export interface PooledCampaign {
  /** File it came from. */
  readonly name: string;
  readonly posterior: Posterior;
  /** Wheels it ran; of others it says nothing of its own. Absent: all. */
  readonly wheels?: readonly string[];
}

/** One coefficient over all campaigns. */
export interface PooledCoefficient {
  /** Every path that has the value. */
  readonly values: readonly (readonly [path: string, value: number])[];
  readonly symbol: string;
  readonly unit: string;
  readonly value: number;
  /** Standard error of the value, and standard deviation from one campaign to the next, relative. */
  readonly error: number;
  readonly between: number;
  /** Both together: what is believed of the next campaign before its first trial, relative. */
  readonly spread: number;
  /** Campaigns that determine it at all; with none the belief of before stands. */
  readonly campaigns: number;
}

/** A campaign that narrows a belief by less than this share of its variance says nothing of the coefficient (`assumed`). */
const SAYS_NOTHING = 0.05;

/**
 * The coefficients of one side, machine or material, pooled over campaigns: each along its own scale by `randomEffects`. A
 * posterior holds the belief it began from as well as the trials; the belief is taken out of each campaign first, v = 1/(1/v_post −
 * 1/v_prior), and is put in once in the end, or ten campaigns would count it ten times.
 */
export function pooled(
  campaigns: readonly PooledCampaign[],
  side: 'machine' | 'material',
): PooledCoefficient[] {
  const all = new Map<string, Coefficient>();
  for (const { posterior } of campaigns)
    for (const one of posterior.prior.coefficients)
      if (sideOf(one.path) === side && !all.has(one.path) && one.scale.kind !== 'linear')
        all.set(one.path, one);
  return [...all.values()].map((one) => pooledOne(one, campaigns));
}

function pooledOne(coefficient: Coefficient, campaigns: readonly PooledCampaign[]): PooledCoefficient {
  const estimates = campaigns.flatMap((campaign) => estimateOf(coefficient, campaign) ?? []);
  const belief = { value: coordinateOf(coefficient, coefficient.prior), variance: coefficient.spread ** 2 };
  const found =
    estimates.length > 0 ? withBelief(randomEffects(estimates), belief) : { ...belief, between: 0 };
  const value = numberAt(coefficient, found.value);
  const relative = (variance: number): number => relativeSpread(coefficient, value, Math.sqrt(variance));
  return {
    values: numbersAt(coefficient, found.value),
    symbol: coefficient.symbol,
    unit: coefficient.unit,
    value,
    error: relative(found.variance),
    between: relative(found.between),
    spread: relative(found.variance + found.between),
    campaigns: estimates.length,
  };
}

/** What a campaign's trials alone say of a coefficient, along the coefficient's scale; undefined where they say nothing. */
function estimateOf(coefficient: Coefficient, { posterior, wheels }: PooledCampaign): Estimate | undefined {
  const { prior, covariance, mean, draws } = posterior;
  const i = prior.coefficients.findIndex(({ path }) => path === coefficient.path);
  if (i < 0) return undefined;
  const own = prior.coefficients[i]!;
  // along another scale its numbers cannot be pooled with the others'
  if (own.scale.kind !== coefficient.scale.kind) return undefined;
  if (own.wheel !== undefined && wheels && !wheels.includes(own.wheel)) return undefined;
  const before = prior.covariance.get(i, i);
  const after = covariance.get(i, i);
  if (after > (1 - SAYS_NOTHING) * before) return undefined;
  const middle = draws
    ? draws.reduce((sum, { coordinates }) => sum + coordinates[i]!, 0) / draws.length
    : mean[i]!;
  const variance = 1 / (1 / after - 1 / before);
  return { value: variance * (middle / after - prior.mean[i]! / before), variance };
}

function withBelief({ value, variance, between }: RandomEffects, belief: Estimate): RandomEffects {
  const weight = 1 / variance;
  const own = 1 / (belief.variance + between);
  return {
    value: (value * weight + belief.value * own) / (weight + own),
    variance: 1 / (weight + own),
    between,
  };
}
