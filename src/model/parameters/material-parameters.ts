import type { Parameter } from '../parameters.ts';

/** Numbers that stand directly under `material`; the laws bring their own. */
export const MATERIAL: readonly Parameter[] = [
  {
    name: 'density',
    symbol: 'ρ_p',
    unit: 'kg/m^3',
    shownIn: 'kg/m^3',
    meaning: 'particle density (not the bulk density)',
    usual: { low: 600, high: 8000 },
    minimum: 100,
    maximum: 25_000,
    prior: { low: 1000, high: 3000 },
  },
  {
    name: 'sphericity',
    symbol: 'ψ_s',
    unit: '1',
    shownIn: '1',
    meaning: 'surface of the equal-volume sphere over the particle’s own',
    usual: { low: 0.3, high: 1 },
    minimum: 0.1,
    maximum: 1,
    preset: { value: 0.85, label: 'assumed', source: 'broken, roughly equant particles' },
    prior: { low: 0.6, high: 1 },
  },
  {
    name: 'heatCapacity',
    symbol: 'c_p',
    unit: 'J/(kg K)',
    shownIn: 'J/(kg K)',
    meaning: 'heat capacity of the solid',
    usual: { low: 350, high: 3000 },
    minimum: 100,
    maximum: 6000,
    preset: { value: 1200, label: 'assumed', source: 'middle of organic solids and minerals' },
    prior: { low: 700, high: 1800 },
  },
];

/** `components[].share`. */
export const SHARE: Parameter = {
  name: 'share',
  symbol: 'w',
  unit: '1',
  shownIn: '%',
  meaning: 'share of the feed by mass',
  exclusiveMinimum: 0,
  maximum: 1,
};
