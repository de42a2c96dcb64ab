import { believed, believedBetween, type Parameter } from '../parameters.ts';
import { theModel } from '../sources.ts';

const RPM = 1 / 60;
const assumed = (value: number, equation: string) =>
  ({ value, label: 'assumed', source: `chosen here: ${theModel(equation)}` }) as const;

/** Kinds of rotor element and their share of impact energy along the normal (eq. 3). */
export const ELEMENT_KINDS = ['bar', 'pin'] as const;

/** `machine.rotor.geometry` (eq. 1 to 6); `element` stands beside them. */
export const ROTOR_GEOMETRY: readonly Parameter[] = [
  {
    name: 'diameter',
    symbol: 'D',
    unit: 'm',
    shownIn: 'mm',
    meaning: 'rotor tip diameter',
    usual: { low: 0.05, high: 2 },
    exclusiveMinimum: 0,
    maximum: 3,
  },
  {
    name: 'count',
    symbol: 'count',
    unit: '1',
    shownIn: '1',
    meaning: 'number of bars or pins',
    usual: { low: 2, high: 200 },
    minimum: 1,
    maximum: 1000,
    integer: true,
    prior: { low: 8, high: 32 },
  },
  {
    name: 'height',
    symbol: 'h',
    unit: 'm',
    shownIn: 'mm',
    meaning: 'height of an element along the flow',
    usual: { low: 0.01, high: 0.5, of: 'diameter' },
    exclusiveMinimum: 0,
    maximum: 2,
    prior: { low: 0.05, high: 0.2, of: 'diameter' },
  },
  {
    name: 'width',
    symbol: 'w',
    unit: 'm',
    shownIn: 'mm',
    meaning: 'face width of an element',
    usual: { low: 0.01, high: 0.25, of: 'diameter' },
    exclusiveMinimum: 0,
    maximum: 1,
    prior: { low: 0.03, high: 0.12, of: 'diameter' },
  },
  {
    name: 'gap',
    symbol: 's',
    unit: 'm',
    shownIn: 'mm',
    meaning: 'effective annulus gap between rotor and liner',
    usual: { low: 0.002, high: 0.15, of: 'diameter' },
    exclusiveMinimum: 0,
    maximum: 0.5,
    prior: { low: 0.01, high: 0.06, of: 'diameter' },
  },
];

/** `machine.rotor.coefficients` (eq. 2, 4, 6, 22, 23, 24b). */
export const ROTOR_COEFFICIENTS: readonly Parameter[] = [
  {
    name: 'velocityRatio',
    symbol: 'η_v',
    unit: '1',
    shownIn: '1',
    meaning: 'impact speed over tip speed: 1 minus the swirl the particle already has',
    exclusiveMinimum: 0,
    maximum: 1,
    preset: assumed(0.85, '2'),
    prior: { low: 0.5, high: 1 },
    belief: believedBetween(0.5, 1, 1, 0.05),
  },
  {
    name: 'hitFactor',
    symbol: 'χ_h',
    unit: '1',
    shownIn: '1',
    meaning: 'factor on the mean hits per pass',
    exclusiveMinimum: 0,
    preset: assumed(1, '4'),
    prior: { low: 0.3, high: 3 },
  },
  {
    name: 'linerFactor',
    symbol: 'χ_l',
    unit: '1',
    shownIn: '1',
    meaning: 'factor of the liner on the mean hits per pass',
    exclusiveMinimum: 0,
    preset: assumed(1, '4'),
    prior: { low: 0.7, high: 1.5 },
  },
  {
    name: 'returnRatio',
    symbol: 'ψ',
    unit: '1',
    shownIn: '1',
    meaning: 'speed at which a particle flies between rotor and liner, over tip speed',
    exclusiveMinimum: 0,
    maximum: 1,
    preset: assumed(0.15, '4'),
    prior: { low: 0.05, high: 0.4 },
    belief: believed(0.5),
  },
  {
    name: 'crowdingLoad',
    symbol: 'λ_r',
    unit: '1',
    shownIn: '1',
    meaning: 'loading (solids over air, by mass) that halves the hits per pass',
    exclusiveMinimum: 0,
    preset: assumed(6, '6'),
    prior: { low: 2, high: 20 },
    belief: believed(0.4),
  },
  {
    name: 'idleNumber',
    symbol: 'c_0',
    unit: '1',
    shownIn: '1',
    meaning: 'drag number of the idling rotor; fit it to a measured idle point',
    minimum: 0,
    preset: assumed(0.8, '22'),
    prior: { low: 0.2, high: 2 },
    belief: believed(0.2),
  },
  {
    name: 'restitution',
    symbol: 'e',
    unit: '1',
    shownIn: '1',
    meaning: 'restitution of a particle at the element',
    minimum: 0,
    maximum: 1,
    preset: assumed(0.1, '23'),
    prior: { low: 0, high: 0.5 },
  },
  {
    name: 'powerFactor',
    symbol: 'χ_P',
    unit: '1',
    shownIn: '1',
    meaning: 'factor on the grinding power; fit it to measured power',
    exclusiveMinimum: 0,
    preset: assumed(1, '23'),
    prior: { low: 0.5, high: 2 },
    belief: believed(0.3),
  },
  {
    name: 'gapLoss',
    symbol: 'ξ_g',
    unit: '1',
    shownIn: '1',
    meaning: 'pressure loss number of the air’s rise past the rotor’s elements',
    minimum: 0,
    preset: assumed(8.41, '24b'),
    prior: { low: 2.5, high: 25 },
  },
];

/** `machine.rotor.motor` (eq. 24a). */
export const MOTOR: readonly Parameter[] = [
  {
    name: 'power',
    symbol: 'P_rated',
    unit: 'W',
    shownIn: 'kW',
    meaning: 'rated power of the mill motor',
    usual: { low: 500, high: 2e6 },
    minimum: 50,
    maximum: 20e6,
  },
  {
    name: 'baseSpeed',
    symbol: 'N_base',
    unit: '1/s',
    shownIn: 'rpm',
    meaning: 'rotor speed from which the motor gives its rated power',
    usual: { low: 200 * RPM, high: 20_000 * RPM },
    exclusiveMinimum: 0,
    maximum: 50_000 * RPM,
  },
];

/** `machine.rotor.maxSpeed`. */
export const ROTOR_MAX_SPEED: Parameter = {
  name: 'maxSpeed',
  symbol: 'N_max',
  unit: '1/s',
  shownIn: 'rpm',
  meaning: 'highest rotor speed its maker allows',
  exclusiveMinimum: 0,
  maximum: 50_000 * RPM,
  usual: { low: 200 * RPM, high: 30_000 * RPM },
};
