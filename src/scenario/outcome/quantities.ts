import { saturationPressure, VAPOUR_RATIO } from '../../model/air.ts';
import { massClosure } from '../../model/loop/balance.ts';
import { sizeAt, undersizeAt } from '../../model/psd/curve.ts';
import { massMeanSize, sauterMeanSize, span } from '../../model/psd/statistics.ts';
import { ENERGY, entry, FREQUENCY, NUMBER, PERCENT, POWER, RATE, SIZE, SPEED } from './entry.ts';
import { PLANT_QUANTITIES } from './plant-quantities.ts';
import type { Quantity, Solved } from './quantity.ts';
import { productSurface } from './surface.ts';

const percentile = (percent: number): Quantity =>
  entry(
    'product',
    `x${percent}`,
    `x${percent}`,
    SIZE,
    `size below which ${percent} % of the product's mass lies`,
    ({ curve }) => sizeAt(curve, percent / 100),
  );

const conditions = (solved: Solved) => solved.state.conditions;
const feedRate = (solved: Solved) => solved.case.settings.feedRate;
const circulating = (solved: Solved) => solved.state.circulating;

const PRODUCT: readonly Quantity[] = [
  ...[10, 50, 90, 95, 97, 99].map(percentile),
  entry(
    'product',
    'span',
    '(x90 − x10)/x50',
    NUMBER,
    'width of the product over its median size',
    ({ curve }) => span(curve),
  ),
  entry('product', 'd32', 'x̄_{1,2}', SIZE, 'Sauter mean size', ({ curve }) => sauterMeanSize(curve)),
  entry('product', 'd43', 'x̄_{1,3}', SIZE, 'mass-mean size', ({ curve }) => massMeanSize(curve)),
  entry(
    'product',
    'surface',
    'S_m',
    ['m^2/kg', 'm^2/kg', 'm2_per_kg'],
    'specific surface from the size curve, 6/(ρ ψ d32)',
    productSurface,
  ),
  {
    ...entry('product', 'passing', 'Q(x)', PERCENT, 'share of the product finer than a size', at(1)),
    argument: 'size',
  },
  {
    ...entry('product', 'oversize', '1 − Q(x)', PERCENT, 'share of the product coarser than a size', at(-1)),
    argument: 'size',
  },
];

function at(side: 1 | -1): Quantity['of'] {
  return ({ curve }, size) => {
    const below = undersizeAt(curve, size!);
    return side === 1 ? below : 1 - below;
  };
}

const LOOP: readonly Quantity[] = [
  entry(
    'loop',
    'passes',
    'G/F',
    NUMBER,
    'mean number of times a particle meets the wheel',
    (s) => circulating(s) / feedRate(s),
  ),
  entry(
    'loop',
    'circulatingLoad',
    'G/F − 1',
    NUMBER,
    'what returns to the rotor over what is fed',
    (s) => circulating(s) / feedRate(s) - 1,
  ),
  entry(
    'loop',
    'loading',
    'λ',
    ['1', '1', 'kg_per_kg'],
    'circulating solids over air, by mass',
    (s) => conditions(s).loading,
  ),
  entry(
    'loop',
    'holdup',
    'M',
    ['kg', 'kg', 'kg'],
    'solids in the loop',
    (s) => circulating(s) * s.case.loop.loopTime,
  ),
  entry(
    'loop',
    'residence',
    'M/F',
    ['s', 's', 's'],
    'mean time in the loop',
    (s) => (circulating(s) * s.case.loop.loopTime) / feedRate(s),
  ),
  entry(
    'loop',
    'feedAtChoke',
    'F_c',
    RATE,
    'feed rate at which these settings choke',
    (s) => s.state.feedAtChoke,
  ),
  entry(
    'loop',
    'feedMargin',
    'F_c/F − 1',
    PERCENT,
    'how far the feed may rise before the mill chokes',
    (s) => s.state.feedAtChoke / feedRate(s) - 1,
  ),
  entry('loop', 'massClosure', '|Σp − F|/F', NUMBER, 'mass the solve lost or made, relative', (s) =>
    massClosure(s.state),
  ),
];

const ROTOR: readonly Quantity[] = [
  entry('rotor', 'tipSpeed', 'v_tip', SPEED, 'rotor tip speed', (s) => conditions(s).tipSpeed),
  entry(
    'rotor',
    'hitsPerPass',
    'k',
    NUMBER,
    'mean hits a particle takes in one pass of the rotor',
    (s) => conditions(s).hitsPerPass,
  ),
  entry('rotor', 'idlePower', 'P_0', POWER, 'rotor power without solids', (s) => conditions(s).idlePower),
  entry(
    'rotor',
    'grindingPower',
    'P_g',
    POWER,
    'rotor power given to the solids',
    (s) => conditions(s).grindingPower,
  ),
  entry(
    'rotor',
    'rotorPower',
    'P',
    POWER,
    'rotor power, idle and grinding',
    (s) => conditions(s).rotorPower,
    'power',
  ),
  entry(
    'rotor',
    'motorLoad',
    'P/P_av',
    NUMBER,
    'rotor power over what the motor gives at this speed',
    (s) => conditions(s).rotorPower / conditions(s).availablePower,
  ),
  entry(
    'rotor',
    'rotorSpeedUse',
    'N/N_max',
    PERCENT,
    'rotor speed over its highest allowed',
    (s) => s.case.settings.rotorSpeed / s.case.rotor.maxSpeed,
  ),
];

const WHEEL: readonly Quantity[] = [
  entry(
    'wheel',
    'cutSize',
    'x_c',
    SIZE,
    'size with even chance to pass the wheel (first component)',
    (s) => s.state.components[0]!.cutSize,
  ),
  entry(
    'wheel',
    'stokesCutSize',
    'x_c,St',
    SIZE,
    'cut size if drag followed Stokes',
    (s) => s.state.components[0]!.stokesCutSize,
  ),
  entry(
    'wheel',
    'sharpness',
    'κ',
    NUMBER,
    'x25/x75 of the grade efficiency at this load',
    (s) => conditions(s).sharpness,
  ),
  entry(
    'wheel',
    'bypass',
    'τ',
    NUMBER,
    'share that returns to the rotor whatever its size',
    (s) => conditions(s).bypass,
  ),
  entry('wheel', 'rimSpeed', 'ωR', SPEED, 'rim speed of the wheel', (s) => conditions(s).rimSpeed),
  entry(
    'wheel',
    'radialVelocity',
    'v_r',
    SPEED,
    'inflow velocity at the rim',
    (s) => conditions(s).radialVelocity,
  ),
  entry(
    'wheel',
    'wheelPower',
    'P_w',
    POWER,
    'power given to air and solids by the wheel',
    (s) => conditions(s).wheelPower,
    'power',
  ),
  entry(
    'wheel',
    'pressureLoss',
    'Δp',
    ['Pa', 'Pa', 'Pa'],
    'pressure loss of rotor gap and wheel',
    (s) => conditions(s).pressureLoss,
  ),
  entry(
    'wheel',
    'wheelSpeedUse',
    'n_w/n_max',
    PERCENT,
    'wheel speed over its highest allowed',
    (s) => s.case.settings.wheelSpeed / s.case.wheel.maxSpeed,
  ),
];

const AIR: readonly Quantity[] = [
  entry(
    'air',
    'outletTemperature',
    'T',
    ['K', 'degC', 'C'],
    'temperature of air and product at the outlet',
    (s) => conditions(s).temperature,
  ),
  entry(
    'air',
    'flowAtOutlet',
    'Q',
    ['m^3/s', 'm^3/h', 'm3_per_h'],
    'air flow at the outlet temperature',
    (s) => conditions(s).airFlow,
  ),
  entry(
    'air',
    'productLoading',
    'c_p',
    ['kg/m^3', 'kg/m^3', 'kg_per_m3'],
    'product in the exit air',
    (s) => feedRate(s) / conditions(s).airFlow,
  ),
  entry('air', 'outletHumidity', 'φ', PERCENT, 'relative humidity of the exit air', outletHumidity),
];

function outletHumidity(solved: Solved): number {
  const { state, case: c } = solved;
  const ratio = state.conditions.humidityRatio;
  const vapour = (c.air.pressure * ratio) / (VAPOUR_RATIO + ratio);
  return vapour / saturationPressure(state.conditions.temperature);
}

const ENERGIES: readonly Quantity[] = [
  entry(
    'energy',
    'specificEnergy',
    'P/F',
    ENERGY,
    'rotor energy per mass of product',
    (s) => conditions(s).rotorPower / feedRate(s),
    'specific',
  ),
  entry(
    'energy',
    'netEnergy',
    'P_g/F',
    ENERGY,
    'grinding energy per mass of product, without idling',
    (s) => conditions(s).grindingPower / feedRate(s),
    'net',
  ),
];

const SETTINGS: readonly Quantity[] = [
  entry('settings', 'rotorSpeed', 'N', FREQUENCY, 'rotor speed', (s) => s.case.settings.rotorSpeed),
  entry('settings', 'wheelSpeed', 'n_w', FREQUENCY, 'wheel speed', (s) => s.case.settings.wheelSpeed),
  entry('settings', 'feedRate', 'F', RATE, 'feed rate', feedRate),
  entry(
    'settings',
    'airFlow',
    'Q_in',
    ['m^3/s', 'm^3/h', 'm3_per_h'],
    'air flow as set, or as the fan gives it',
    (s) => s.case.air.flow,
  ),
];

/** Every quantity a spec, goal, sweep or table can name, in the order tables show them. */
export const QUANTITIES: readonly Quantity[] = [
  ...PRODUCT,
  ...LOOP,
  ...ROTOR,
  ...WHEEL,
  ...AIR,
  ...ENERGIES,
  ...SETTINGS,
  ...PLANT_QUANTITIES,
];

const BY_NAME: ReadonlyMap<string, Quantity> = new Map(
  QUANTITIES.map((quantity) => [quantity.name, quantity]),
);
const PERCENTILE = /^x(\d{1,2}(?:\.\d{1,4})?)$/;

/**
 * The quantity of a name; any percentile such as `x42` or `x97.5` is one, even where no table lists it.
 *
 * @returns undefined where nothing has this name
 */
export function quantityNamed(name: string): Quantity | undefined {
  const known = BY_NAME.get(name);
  if (known) return known;
  const percent = Number(PERCENTILE.exec(name)?.[1]);
  return percent > 0 && percent < 100 ? percentile(percent) : undefined;
}
