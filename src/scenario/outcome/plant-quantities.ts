import { sizeAt } from '../../model/psd/curve.ts';
import type { PlantState, ProductStream } from '../../plant/plant-state.ts';
import { ENERGY, entry, FLOW, KELVIN, PERCENT, POWER, PRESSURE, SIZE, SPEED, TEMPERATURE } from './entry.ts';
import type { Quantity } from './quantity.ts';

/** A quantity of the plant; it does not exist where the scenario has none. */
function around(
  name: string,
  symbol: string,
  unit: Parameters<typeof entry>[3],
  meaning: string,
  of: (plant: PlantState) => number,
): Quantity {
  return entry('plant', name, symbol, unit, meaning, ({ plant }) => (plant ? of(plant) : Number.NaN));
}

function percentileOf(stream: ProductStream, share: number): number {
  return stream.curve ? sizeAt(stream.curve, share) : Number.NaN;
}

/** Shaft power of rotor, wheel and fan. */
function allPower({ state, fan }: PlantState): number {
  return state.conditions.rotorPower + state.conditions.wheelPower + fan.power;
}

const AIR_TO_CLOTH = ['m/s', 'm/min', 'm_per_min'] as const;

const COLLECTION: readonly Quantity[] = [
  around(
    'cycloneYield',
    'η_c',
    PERCENT,
    'share of the product that the cyclone keeps',
    (p) => p.march.cyclone.unit.collected,
  ),
  around(
    'cycloneCut',
    'x50,c',
    SIZE,
    "cut size of the cyclone's vortex (first component)",
    (p) => p.march.cyclone.unit.cutSizes[0]!,
  ),
  around('cycloneX50', 'x50', SIZE, 'median size of the cyclone product', (p) =>
    percentileOf(p.streams.cyclone, 0.5),
  ),
  around('cycloneX95', 'x95', SIZE, '95 % size of the cyclone product', (p) =>
    percentileOf(p.streams.cyclone, 0.95),
  ),
  around('finesX50', 'x50', SIZE, 'median size of the filter fines', (p) =>
    percentileOf(p.streams.filter, 0.5),
  ),
  around(
    'inletVelocity',
    'v_in',
    SPEED,
    'inlet velocity of the cyclone',
    (p) => p.march.cyclone.unit.inletVelocity,
  ),
  around(
    'airToCloth',
    'v_f',
    AIR_TO_CLOTH,
    'air-to-cloth ratio of the filter',
    (p) => p.march.filter.unit.airToCloth,
  ),
  around(
    'canVelocity',
    'v_can',
    SPEED,
    'velocity of the air rising between the bags',
    (p) => p.march.filter.unit.canVelocity,
  ),
];

const AIRSIDE: readonly Quantity[] = [
  around(
    'lineVelocity',
    'v_L',
    SPEED,
    'air velocity in the product line',
    (p) => p.march.conveying.line.velocity,
  ),
  around(
    'saltationRatio',
    'v/v_salt',
    ['1', '1', ''],
    'slower of feed and product line: air velocity over that at which solids settle out',
    (p) => Math.min(p.march.conveying.line.saltationRatio, p.march.intake.feedLine.saltationRatio),
  ),
  around(
    'cyclonePressureLoss',
    'Δp_c',
    PRESSURE,
    'pressure loss of the cyclone',
    (p) => p.march.cyclone.unit.pressureLoss,
  ),
  around(
    'filterPressureLoss',
    'Δp_f',
    PRESSURE,
    'pressure loss of the filter before cleaning',
    (p) => p.march.filter.unit.pressureLoss,
  ),
  around('systemPressureLoss', 'Δp', PRESSURE, 'pressure rise the fan must give', (p) => p.fan.rise),
  around('fanFlow', 'Q_fan', FLOW, "air flow at the fan's inlet", (p) => p.fan.flow),
  around('fanPower', 'P_fan', POWER, 'shaft power of the fan', (p) => p.fan.power),
  around('fanSpeed', 'n/n_ref', PERCENT, 'fan speed over that of its curve', (p) => p.fan.speed),
  around('fanMotorLoad', 'P_fan/P_m', PERCENT, 'fan shaft power over its motor', (p) => p.fan.motorUse),
  around('feederUse', 'F/F_max', PERCENT, "feed rate over the feeder's highest", (p) => p.feeder.use),
  around(
    'airlockUse',
    'ṁ/ṁ_max',
    PERCENT,
    'cyclone product over what its airlock discharges',
    (p) => p.march.cyclone.lock.use,
  ),
];

const PRODUCT: readonly Quantity[] = [
  around(
    'productTemperature',
    'T_p',
    TEMPERATURE,
    'temperature of the product as it leaves the cyclone',
    (p) => p.march.cyclone.parting.temperature,
  ),
  around(
    'temperatureMargin',
    'T_max − T_p',
    KELVIN,
    'how far the product stays below its temperature limit',
    (p) => p.moisture.temperatureMargin,
  ),
  around(
    'productHumidity',
    'φ_p',
    PERCENT,
    'relative humidity of the air with the product in the cyclone',
    (p) => p.moisture.humidity,
  ),
  around(
    'storedHumidity',
    'φ_st',
    PERCENT,
    'relative humidity of that air once the packed product has cooled',
    (p) => p.moisture.storedHumidity,
  ),
  around(
    'humidityMargin',
    'φ_crit − φ_st',
    PERCENT,
    'how far stored humidity stays below where the product cakes',
    (p) => p.moisture.humidityMargin,
  ),
  around('dewPoint', 'T_dew', TEMPERATURE, 'dew point of the product air', (p) => p.moisture.dewPoint),
  around(
    'dewMargin',
    'T_wall − T_dew',
    KELVIN,
    'how far the coldest wall stays above the dew point',
    (p) => p.moisture.dewMargin,
  ),
];

const ENERGIES: readonly Quantity[] = [
  around('plantPower', 'P_all', POWER, 'shaft power of rotor, wheel and fan together', allPower),
  around(
    'plantEnergy',
    'P_all/F',
    ENERGY,
    'energy of rotor, wheel and fan per mass of feed',
    (p) => allPower(p) / p.case.settings.feedRate,
  ),
];

/** Quantities of what stands around the mill. */
export const PLANT_QUANTITIES: readonly Quantity[] = [...COLLECTION, ...AIRSIDE, ...PRODUCT, ...ENERGIES];
