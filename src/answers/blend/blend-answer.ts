import { type SizeCurve, sizeAt, undersizeAt } from '../../model/psd/curve.ts';
import { feeder, shareSpread } from '../../plant/feeder.ts';
import { type SitedCase, toCase } from '../../scenario/operating-point.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { curveOf, type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { gatesOf } from '../spec-gates.ts';

/** One component in the product. */
export interface BlendPart {
  readonly name: string;
  /** Of the feed and of the product by mass, and of what circulates, 0…1. */
  readonly fed: number;
  readonly product: number;
  readonly circulating: number;
  readonly curve: SizeCurve;
  /** [m] */
  readonly cut: number;
}

/** What an error of the ratio does to one number of the product's size. */
export interface RatioEffect {
  /** `passing` at a size, or `size` at a share. */
  readonly about: 'passing' | 'size';
  /** The size [m], or the share 0…1. */
  readonly at: number;
  /** Share 0…1, or size [m]. */
  readonly value: number;
  /** One standard deviation of it. */
  readonly deviation: number;
}

/** Two components or more milled together. */
export interface BlendAnswer {
  readonly parts: readonly BlendPart[];
  /** The blend and the main component alone at the same settings and feed rate; undefined where that chokes. */
  readonly blend: Solved;
  readonly alone: Solved | undefined;
  readonly main: string;
  readonly ratio: {
    /** Standard deviation of each feeder's rate, relative: of the first component, of all others. */
    readonly feeders: readonly [first: number, rest: number];
    /** Whether both feeders are in the file; else an error is assumed. */
    readonly stated: boolean;
    /** Of the first component's share. */
    readonly share: number;
    readonly deviation: number;
    readonly effects: readonly RatioEffect[];
  };
}

/** Error of a feeder where the file has not two of them (`assumed`). */
const FEEDER_ERROR = 0.01;
/** Shares whose sizes are followed. */
const SHARES = [0.1, 0.5, 0.95] as const;

/**
 * What a blend is at an operating point, component by component, and what the ratio of two feeders does to its size.
 *
 * @returns undefined of one component, or where the mill chokes
 */
export function blendAnswer(scenario: Scenario, at?: Point): BlendAnswer | undefined {
  if (scenario.components.length < 2) return undefined;
  const c = toCase(scenario);
  const blend = at ?? solvePoint(c, { choke: false });
  if (blend.status === 'choked') return undefined;
  const parts = partsOf(blend);
  const main = c.components.reduce((a, b) => (b.share > a.share ? b : a));
  const without = solvePoint({ ...c, components: [{ ...main, share: 1 }] }, { choke: false });
  return {
    parts,
    blend,
    alone: without.status === 'steady' ? without : undefined,
    main: main.material.name,
    ratio: ratioOf(scenario, c, blend, parts),
  };
}

function partsOf({ case: c, state }: Solved): BlendPart[] {
  const sum = (masses: ArrayLike<number>): number => Array.from(masses).reduce((a, b) => a + b, 0);
  const product = state.components.map((each) => sum(each.product));
  const arriving = state.components.map((each) => sum(each.arriving));
  const [all, around] = [sum(product), sum(arriving)];
  return state.components.map((each, k) => ({
    name: c.components[k]!.material.name,
    fed: c.components[k]!.share,
    product: product[k]! / all,
    circulating: arriving[k]! / around,
    curve: curveOf(state.grid, each.product),
    cut: each.cutSize,
  }));
}

function ratioOf(
  scenario: Scenario,
  c: SitedCase,
  blend: Solved,
  parts: readonly BlendPart[],
): BlendAnswer['ratio'] {
  const { plant, settings } = c;
  const share = parts[0]!.product;
  const stated = plant?.secondFeeder !== undefined;
  const feeders: readonly [number, number] = stated
    ? [
        feeder(plant!.feeder, share * settings.feedRate).spread,
        feeder(plant!.secondFeeder!, (1 - share) * settings.feedRate).spread,
      ]
    : [FEEDER_ERROR, FEEDER_ERROR];
  const deviation = shareSpread(share, ...feeders);
  const outcome = scenario.spec.map(() => ({ met: true }));
  const sizes = [
    ...new Set(
      gatesOf(scenario.spec, outcome)
        .filter(({ about }) => about === 'share')
        .map(({ size }) => size * 1e-6),
    ),
  ];
  return { feeders, stated, share, deviation, effects: ratioEffects(blend.curve, parts, deviation, sizes) };
}

/**
 * What a deviation σ_s of the first component's share does to the blend, the curves of the components unchanged (`derived`):
 * Q = s Q_1 + (1 − s) Q_2, so σ_Q = |Q_1 − Q_2| σ_s at a size, and σ_x = σ_Q/(dQ/dx) of the size at a share.
 *
 * @param blend curve of the product
 * @param parts the first component and all others
 * @param deviation σ_s
 * @param sizes at which passing is followed [m]
 */
export function ratioEffects(
  blend: SizeCurve,
  [first, ...rest]: readonly Pick<BlendPart, 'curve' | 'product'>[],
  deviation: number,
  sizes: readonly number[],
): RatioEffect[] {
  const others = rest.reduce((sum, { product }) => sum + product, 0);
  const apart = (size: number): number =>
    undersizeAt(first!.curve, size) -
    rest.reduce((sum, { curve, product }) => sum + (product / others) * undersizeAt(curve, size), 0);
  const passing = sizes.map(
    (size): RatioEffect => ({
      about: 'passing',
      at: size,
      value: undersizeAt(blend, size),
      deviation: Math.abs(apart(size)) * deviation,
    }),
  );
  const percentiles = SHARES.map((share): RatioEffect => {
    const size = sizeAt(blend, share);
    const slope = slopeAt(blend, size);
    return {
      about: 'size',
      at: share,
      value: size,
      deviation: (Math.abs(apart(size)) * deviation) / slope,
    };
  });
  return [...passing, ...percentiles];
}

/** Step of the slope, as a share of the size. */
const STEP = 1e-3;

/** dQ/dx [1/m]. */
function slopeAt(curve: SizeCurve, size: number): number {
  const [low, high] = [size * (1 - STEP), size * (1 + STEP)];
  return (undersizeAt(curve, high) - undersizeAt(curve, low)) / (high - low);
}
