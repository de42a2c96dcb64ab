import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Matched } from './match.ts';
import { finesBelow } from './values.ts';

/** Percentiles by which two products are told apart. */
export const PERCENTILES = ['x10', 'x50', 'x90', 'x99'] as const;

/** Quantities of a wheel at the target, beside its speed and its fines. */
export const COMPARED = [
  ...PERCENTILES,
  'span',
  'feedMargin',
  'rotorPower',
  'wheelPower',
  'specificEnergy',
  'pressureLoss',
  'outletTemperature',
  'sharpness',
  'bypass',
  'cutSize',
] as const;

export type ComparedName = (typeof COMPARED)[number] | 'speed' | 'fines';

export type AtTarget = Matched & { readonly reached: true };

/** Every figure of a wheel at the target, SI. */
export function comparedAt({ solved, speed }: AtTarget, fines: number): Record<ComparedName, number> {
  const values = COMPARED.map((name) => [name, quantityNamed(name)!.of(solved)] as const);
  return {
    ...(Object.fromEntries(values) as Record<(typeof COMPARED)[number], number>),
    speed,
    fines: finesBelow(solved, fines),
  };
}

/** Largest relative difference among products, and the percentile in which they differ by it. */
export function furthestApart(products: readonly Readonly<Record<(typeof PERCENTILES)[number], number>>[]): {
  readonly name: (typeof PERCENTILES)[number];
  readonly share: number;
} {
  const apart = PERCENTILES.map((name) => {
    const sizes = products.map((each) => each[name]);
    return { name, share: Math.max(...sizes) / Math.min(...sizes) - 1 };
  });
  return apart.reduce((most, each) => (each.share > most.share ? each : most));
}
