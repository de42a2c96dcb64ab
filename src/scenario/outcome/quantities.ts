import { saturationPressure, VAPOUR_RATIO } from '../../model/air.ts';
import { ENERGY, entry, FREQUENCY, PERCENT, RATE } from './entry.ts';
import { LOOP } from './loop-quantities.ts';
import { ROTOR, WHEEL } from './machine-quantities.ts';
import { PLANT_QUANTITIES } from './plant-quantities.ts';
import { PRODUCT, percentile } from './product-quantities.ts';
import { conditions, feedRate, type Quantity, type Solved } from './quantity.ts';

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
  entry(
    'air',
    'moistureLeft',
    'X_l',
    PERCENT,
    'water meant to evaporate that stays in the product, by mass of feed: the outlet air is saturated',
    (s) => conditions(s).waterLeft / feedRate(s),
  ),
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

const BY_NAME: Map<string, Quantity> = new Map(QUANTITIES.map((quantity) => [quantity.name, quantity]));

/** Adds a quantity from outside; `outside/register.ts` alone calls it. */
export function addQuantity(quantity: Quantity): void {
  (QUANTITIES as Quantity[]).push(quantity);
  BY_NAME.set(quantity.name, quantity);
}

/** Takes out what `addQuantity` added. */
export function removeQuantity(name: string): void {
  (QUANTITIES as Quantity[]).splice(
    QUANTITIES.findIndex((quantity) => quantity.name === name),
    1,
  );
  BY_NAME.delete(name);
}

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
