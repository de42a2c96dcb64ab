import { believed } from '../../parameters.ts';
import { SOURCES } from '../../sources.ts';
import type { SelectionLaw } from './selection-law.ts';

/**
 * Logarithm of energy, S = A ln(W/K) between K and K e^{1/A}, K = C (x_0/x)^m (eq. 9; `published`: Cho & Austin 2003; the
 * printed sign of the exponent is taken so that smaller particles need more energy).
 */
export const logEnergy: SelectionLaw = {
  name: 'log-energy',
  summary: 'breakage probability linear in the logarithm of impact energy',
  label: 'published',
  source: SOURCES.choAustin2003,
  parameters: [
    {
      name: 'slope',
      symbol: 'A',
      unit: '1',
      shownIn: '1',
      meaning: 'rise of the probability per factor e of energy',
      exclusiveMinimum: 0,
      maximum: 5,
      preset: { value: 0.235, label: 'published', source: `limestone, ${SOURCES.choAustin2003}` },
      belief: believed(0.3),
    },
    {
      name: 'energy',
      symbol: 'C',
      unit: 'J/kg',
      shownIn: 'J/kg',
      meaning: 'least energy that breaks the reference size',
      exclusiveMinimum: 0,
      preset: { value: 130, label: 'published', source: `limestone, ${SOURCES.choAustin2003}` },
      belief: believed(1),
    },
    {
      name: 'exponent',
      symbol: 'm',
      unit: '1',
      shownIn: '1',
      meaning: 'how the least energy grows towards fine sizes',
      minimum: 0,
      maximum: 5,
      preset: { value: 0.58, label: 'published', source: `limestone, ${SOURCES.choAustin2003}` },
      belief: believed(0.3),
    },
    {
      name: 'referenceSize',
      symbol: 'x_0',
      unit: 'm',
      shownIn: 'mm',
      meaning: 'size at which the least energy is stated',
      exclusiveMinimum: 0,
      preset: { value: 1e-3, label: 'published', source: SOURCES.choAustin2003 },
    },
  ],
  probability: (p, size, { energy }) => {
    const least = (p.energy as number) * ((p.referenceSize as number) / size) ** (p.exponent as number);
    return Math.min(1, Math.max(0, (p.slope as number) * Math.log(energy / least)));
  },
  grindLimit: (p, { energy }) => {
    const exponent = p.exponent as number;
    if (exponent === 0) return energy > (p.energy as number) ? 0 : Number.POSITIVE_INFINITY;
    return (p.referenceSize as number) * ((p.energy as number) / energy) ** (1 / exponent);
  },
  outside: (p, { energy }) => {
    const last = (p.energy as number) * Math.exp(1 / (p.slope as number));
    if (energy <= last) return [];
    return [
      `${energy.toFixed(0)} J/kg a hit is past the law's last point for its reference size, ${last.toFixed(0)} J/kg: every hit breaks it`,
    ];
  },
};
