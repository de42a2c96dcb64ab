import { type SizeCurve, sizeAt, undersizeAt } from '../../model/psd/curve.ts';

/** Shares at which two products are held against each other, and the names people know them by. */
const SHARES = [0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.97] as const;
/** Percentiles a product is sold by: those the answer is judged on. */
const JUDGED = [0.5, 0.95, 0.97] as const;

/** ln of the percentiles of a curve at `SHARES`; NaN below the grid. */
export function logPercentiles(curve: SizeCurve): number[] {
  return SHARES.map((share) => Math.log(sizeAt(curve, share)));
}

/** How far one product is from another. */
export interface Difference {
  /** Relative difference of x50, x95 and x97. */
  readonly judged: Readonly<Record<'x50' | 'x95' | 'x97', number>>;
  /** Largest of those, without sign. */
  readonly worst: number;
  /** Largest difference of the undersize over all sizes [-]. */
  readonly curve: number;
}

/** Differences of a product from the one wanted. */
export function differenceOf(made: SizeCurve, wanted: SizeCurve): Difference {
  const [x50, x95, x97] = JUDGED.map((share) => sizeAt(made, share) / sizeAt(wanted, share) - 1) as [
    number,
    number,
    number,
  ];
  let curve = 0;
  wanted.edges.forEach((edge, i) => {
    curve = Math.max(curve, Math.abs(undersizeAt(made, edge) - wanted.undersize[i]!));
  });
  return { judged: { x50, x95, x97 }, worst: Math.max(...[x50, x95, x97].map(Math.abs)), curve };
}
