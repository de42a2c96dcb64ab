/** Unit of the sizes of a file; `mesh` needs its series. */
export type SizeUnit = 'nm' | 'um' | 'mm' | 'm' | 'mesh';

/** How the particles were measured. */
export type Method = 'laser' | 'sieve';

/** What the shares count: volume or mass (equal at one density), or number. */
export type Basis = 'volume' | 'mass' | 'number';

/** One point of a cumulative curve: share of the mass finer than a size. */
export interface SizePoint {
  /** [m] */
  readonly size: number;
  /** Q, 0…1. */
  readonly undersize: number;
}

/** What one sample's measurement is: a whole curve, percentiles alone, or residues on single sieves. */
export type ObservationKind = 'curve' | 'percentiles' | 'residues';

/** One measured sample, by mass or volume, with how it was understood. */
export interface MeasuredSample {
  readonly name: string;
  readonly kind: ObservationKind;
  /** Ascending in size. */
  readonly points: readonly SizePoint[];
  /** Undefined where the file does not say and nobody stated it. */
  readonly method?: Method;
  readonly basis: Basis;
  /** What was understood, in one line: "52 classes, 0.3–2000 µm, cumulative undersize, volume %". */
  readonly understood: string;
  /** What a reader should know: truncated ends, a sum that is not 100 %, a conversion made. */
  readonly remarks: readonly string[];
  /** Percentiles the file itself states [m], by share, to hold the reading against. */
  readonly stated: readonly SizePoint[];
}
