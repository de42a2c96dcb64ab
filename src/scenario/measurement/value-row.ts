import type { SizePoint } from './measured-sample.ts';

/** A row of one sample: its size or class [m] and its value as written. */
export interface ValueRow {
  readonly lower?: number;
  readonly upper?: number;
  readonly size?: number;
  readonly value: number;
  /** Where it stands, for messages. */
  readonly at: string;
}

export interface Points {
  readonly points: readonly SizePoint[];
  readonly remarks: readonly string[];
}

/** Share as percent with four digits. */
export function percent(share: number): string {
  return Number((100 * share).toPrecision(4)).toString();
}
