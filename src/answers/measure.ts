/** A factor or quantity as an axis or a key shows it. */
export interface Measure {
  readonly name: string;
  /** Unit as text; empty for a pure number. */
  readonly unit: string;
}

export function measureText({ name, unit }: Measure): string {
  return unit === '' ? name : `${name}, ${unit}`;
}
