import { mix } from '../../scenario/design/sequence/hash.ts';
import { type Estimate, type Indices, moments } from './estimate.ts';

/** Bootstrap samples behind the bounds, and the tails they leave out. */
const SAMPLES = 400;
const TAIL = 0.025;

/** Both indices of every factor, in the order of the factors. */
interface Shares {
  readonly first: readonly number[];
  readonly total: readonly number[];
}

/**
 * Indices from groups A, B, A with factor i from B (design `sensitivity`):
 * S_i = ⟨f_B (f_ABi − f_A)⟩/V and T_i = ⟨(f_A − f_ABi)²⟩/(2V), V the variance over A and B (published: Saltelli et al.,
 * Comput. Phys. Commun. 181 (2010) 259; T_i Jansen, Comput. Phys. Commun. 117 (1999) 35). Bounds by resampling groups,
 * which for a quasi-random design are rather too wide than too narrow.
 *
 * @param y values in the order of the design; groups with a NaN are left out
 * @returns one pair a factor; undefined where fewer than two groups are whole
 */
export function exchangeIndices(y: Float64Array, factors: number): Indices[] | undefined {
  const size = factors + 2;
  const groups: number[] = [];
  for (let at = 0; at + size <= y.length; at += size) {
    if (!y.subarray(at, at + size).some(Number.isNaN)) groups.push(at);
  }
  if (groups.length < 2) return undefined;
  const found = indicesOf(y, groups, factors);
  const samples = Array.from({ length: SAMPLES }, (_, s) => {
    const drawn = groups.map((_, g) => groups[mix(g, s + 1) % groups.length]!);
    return indicesOf(y, drawn, factors);
  });
  return Array.from({ length: factors }, (_, i) => ({
    first: bounded(
      found.first[i]!,
      samples.map(({ first }) => first[i]!),
    ),
    total: bounded(
      found.total[i]!,
      samples.map(({ total }) => total[i]!),
    ),
  }));
}

function indicesOf(y: Float64Array, groups: readonly number[], factors: number): Shares {
  const both = new Float64Array(2 * groups.length);
  groups.forEach((at, g) => {
    both[2 * g] = y[at]!;
    both[2 * g + 1] = y[at + 1]!;
  });
  const { mean, variance } = moments(both);
  const first = new Array<number>(factors).fill(0);
  const total = new Array<number>(factors).fill(0);
  for (const at of groups) {
    const a = y[at]!;
    const b = y[at + 1]! - mean;
    for (let i = 0; i < factors; i++) {
      const change = y[at + 2 + i]! - a;
      first[i]! += b * change;
      total[i]! += (change * change) / 2;
    }
  }
  const scale = 1 / (groups.length * variance);
  return { first: first.map((sum) => sum * scale), total: total.map((sum) => sum * scale) };
}

function bounded(value: number, samples: number[]): Estimate {
  samples.sort((a, b) => a - b);
  const at = (share: number): number => samples[Math.round(share * (samples.length - 1))]!;
  return { value, low: Math.min(value, at(TAIL)), high: Math.max(value, at(1 - TAIL)) };
}
