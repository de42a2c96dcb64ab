import type { Parameter } from '../parameters.ts';
import { theModel } from '../sources.ts';

const MICROMETRE = 1e-6;
const assumed = (value: number, equation: string) =>
  ({ value, label: 'assumed', source: `chosen here: ${theModel(equation)}` }) as const;

/** Ways the coarse goes back (eq. 26b). */
export const CIRCUITS = ['internal', 'external', 'open'] as const;

/** Numbers of the loop that stand directly under `machine` (eq. 25, 26, 26a, 26c). */
export const LOOP: readonly Parameter[] = [
  {
    name: 'loopTime',
    symbol: 'τ_loop',
    unit: 's',
    shownIn: 'ms',
    meaning: 'time of one pass of a particle round the loop',
    exclusiveMinimum: 0,
    maximum: 600,
    preset: assumed(0.06, '26'),
    prior: { low: 0.02, high: 0.2 },
  },
  {
    name: 'chokeLoad',
    symbol: 'λ_max',
    unit: '1',
    shownIn: '1',
    meaning: 'loading (solids over air, by mass) at which the loop counts as choked',
    exclusiveMinimum: 0,
    maximum: 1000,
    preset: assumed(10, '26c'),
    prior: { low: 5, high: 20 },
  },
  {
    name: 'stages',
    symbol: 'N',
    unit: '1',
    shownIn: '1',
    meaning: 'mixed stages a particle meets in one pass; `plug` for plug flow',
    minimum: 1,
    maximum: 100,
    integer: true,
    preset: assumed(1, '26a'),
  },
  {
    name: 'casingLoss',
    symbol: 'U',
    unit: 'W/K',
    shownIn: 'W/K',
    meaning: 'heat lost through the casing per kelvin above the inlet air',
    usual: { low: 0, high: 1000 },
    minimum: 0,
    preset: assumed(0, '25'),
    prior: { low: 0, high: 50 },
  },
  {
    name: 'classesPerOctave',
    symbol: 'classes',
    unit: '1',
    shownIn: '1',
    meaning: 'size classes per octave; raised by itself for a sharp wheel',
    minimum: 4,
    maximum: 64,
    integer: true,
    preset: { value: 8, label: 'derived', source: theModel('S1') },
  },
  {
    name: 'smallestSize',
    symbol: 'e_0',
    unit: 'm',
    shownIn: 'um',
    meaning: 'lowest size class edge',
    minimum: 0.001 * MICROMETRE,
    maximum: 10 * MICROMETRE,
    preset: { value: 0.1 * MICROMETRE, label: 'derived', source: theModel('S1') },
  },
];

/** `material.evaporation` (eq. 25). */
export const EVAPORATION: Parameter = {
  name: 'evaporation',
  symbol: 'w_e',
  unit: '1',
  shownIn: '%',
  meaning: 'water that evaporates in the mill, by mass of feed',
  usual: { low: 0, high: 0.15 },
  minimum: 0,
  maximum: 0.5,
  preset: assumed(0, '25'),
};
