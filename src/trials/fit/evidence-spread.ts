import type { Coefficient } from './coefficient.ts';

/** d coordinate / d value, by which a small step of the number is one along its scale. */
function slopeAt({ scale }: Pick<Coefficient, 'scale'>, value: number): number {
  switch (scale.kind) {
    case 'log':
      return 1 / (value + scale.offset);
    case 'logit':
      return (scale.high - scale.low) / ((value - scale.low) * (scale.high - value));
    case 'linear':
      return 1 / scale.unit;
  }
}

/** A standard deviation along a scale as a relative one of the number: what an entry writes as `spread`. */
export function relativeSpread(scaled: Pick<Coefficient, 'scale'>, value: number, along: number): number {
  return along / (slopeAt(scaled, value) * value);
}

/** A relative standard deviation of a number along its scale: what `spread` of an entry means for a fit. */
export function spreadAlong(scaled: Pick<Coefficient, 'scale'>, value: number, relative: number): number {
  return relative * value * slopeAt(scaled, value);
}
