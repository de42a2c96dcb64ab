import { logGamma } from '../chi-square.ts';
import type { Random } from '../random.ts';
import { normal } from '../random.ts';

/** A distribution points are proposed from, over standardised coordinates. */
export interface Proposal {
  readonly draw: (random: Random) => Float64Array;
  /** ln of its density up to a constant common to all proposals of one dimension. */
  readonly logDensity: (at: Float64Array) => number;
}

/**
 * Student-t about a centre: its heavy tails keep importance weights bounded.
 *
 * @param lower Cholesky factor of its shape, row-major d × d
 * @param freedom ν
 */
export function studentProposal(centre: Float64Array, lower: Float64Array, freedom: number): Proposal {
  const constant = studentConstant(centre.length, lower, freedom);
  return {
    draw: (random) => moved(centre, lower, stretchOf(freedom, random), random),
    logDensity: (at) => {
      const away = forward(
        lower,
        at.map((value, i) => value - centre[i]!),
      );
      let square = 0;
      for (const value of away) square += value * value;
      return constant - ((freedom + at.length) / 2) * Math.log1p(square / freedom);
    },
  };
}

/** ln of Γ((ν+d)/2) / (Γ(ν/2) (ν/2)^(d/2) det L), which leaves (2π)^(d/2) out. */
function studentConstant(d: number, lower: Float64Array, freedom: number): number {
  let constant = logGamma((freedom + d) / 2) - logGamma(freedom / 2) - (d / 2) * Math.log(freedom / 2);
  for (let i = 0; i < d; i++) constant -= Math.log(lower[i * d + i]!);
  return constant;
}

/** √(ν/χ²_ν), by which a normal step becomes one of Student's. */
function stretchOf(freedom: number, random: Random): number {
  let chi = 0;
  for (let k = 0; k < freedom; k++) chi += normal(random) ** 2;
  return Math.sqrt(freedom / chi);
}

/** centre + stretch · L z, z standard normal. */
function moved(centre: Float64Array, lower: Float64Array, stretch: number, random: Random): Float64Array {
  const d = centre.length;
  const z = Float64Array.from({ length: d }, () => normal(random));
  return centre.map((value, i) => {
    let sum = 0;
    for (let j = 0; j <= i; j++) sum += lower[i * d + j]! * z[j]!;
    return value + stretch * sum;
  });
}

/**
 * Student-t kernels of one shape about many centres: they follow a distribution however it bends, and reach beyond it.
 *
 * @param centres equally likely
 * @param lower Cholesky factor of a kernel's shape, row-major d × d
 * @param freedom ν
 */
export function kernelProposal(
  centres: readonly Float64Array[],
  lower: Float64Array,
  freedom: number,
): Proposal {
  const d = centres[0]!.length;
  const constant = studentConstant(d, lower, freedom) - Math.log(centres.length);
  // centres in the kernel's own coordinates, so that a density costs one solve and a distance to each
  const solved = centres.map((centre) => forward(lower, centre));
  return {
    draw: (random) => {
      const centre = centres[Math.floor(random() * centres.length)]!;
      return moved(centre, lower, stretchOf(freedom, random), random);
    },
    logDensity: (at) => {
      const here = forward(lower, at);
      let sum = 0;
      for (const centre of solved) {
        let square = 0;
        for (let i = 0; i < d; i++) square += (here[i]! - centre[i]!) ** 2;
        sum += (1 + square / freedom) ** (-(freedom + d) / 2);
      }
      return constant + Math.log(sum);
    },
  };
}

/** Several proposals, each taken in its share. */
export function mixedProposal(parts: readonly (readonly [share: number, proposal: Proposal])[]): Proposal {
  return {
    draw: (random) => {
      let at = random();
      for (const [share, proposal] of parts) {
        if (at < share) return proposal.draw(random);
        at -= share;
      }
      return parts[parts.length - 1]![1].draw(random);
    },
    logDensity: (at) => logSum(parts.map(([share, proposal]) => Math.log(share) + proposal.logDensity(at))),
  };
}

/** ln Σ eˣ without overflow; −∞ for none. */
export function logSum(values: ArrayLike<number>): number {
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) most = Math.max(most, values[i]!);
  if (most === Number.NEGATIVE_INFINITY) return most;
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += Math.exp(values[i]! - most);
  return most + Math.log(sum);
}

/** L⁻¹ v. */
function forward(lower: Float64Array, v: Float64Array): Float64Array {
  const d = v.length;
  const out = new Float64Array(d);
  for (let i = 0; i < d; i++) {
    let sum = v[i]!;
    for (let j = 0; j < i; j++) sum -= lower[i * d + j]! * out[j]!;
    out[i] = sum / lower[i * d + i]!;
  }
  return out;
}
