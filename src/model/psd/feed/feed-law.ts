import type { LawChoice, LawHeader } from '../../parameters.ts';

/** A size curve by formula or table (eq. S3); also what a measured file becomes. */
export interface FeedLaw extends LawHeader {
  /** Q(x): cumulative undersize by mass, 0…1, at size x [m]. */
  readonly undersize: (parameters: LawChoice, size: number) => number;
  /** Size [m] coarser than which less than 1e-6 of the mass lies. */
  readonly top: (parameters: LawChoice) => number;
}
