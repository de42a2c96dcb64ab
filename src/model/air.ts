import type { Air } from './case.ts';

/** Specific gas constant of dry air [J/(kg K)] (published: ISO 2533). */
const GAS_CONSTANT = 287.05287;
/** Molar mass of water over that of dry air [-] (published: ASHRAE Fundamentals 2017 ch. 1). */
export const VAPOUR_RATIO = 0.621945;
/** Heat capacity of air in the heat balance [J/(kg K)] (eq. 25). */
export const AIR_HEAT_CAPACITY = 1006;
/** Heat taken up by evaporating water near 20 °C [J/kg] (recalled: steam tables). */
export const EVAPORATION_HEAT = 2.454e6;
/** 0 °C [K]. */
const ICE_POINT = 273.15;
/** Standard atmosphere at sea level [Pa]. */
const STANDARD_PRESSURE = 101325;
/** Temperature of the standard state [K]: 15 °C, dry (ISO 13443). */
const STANDARD_TEMPERATURE = 288.15;

/**
 * Saturation pressure of water vapour, over ice below 0 °C, over water above (Hyland & Wexler 1983, `published` in
 * ASHRAE Fundamentals 2017 ch. 1, formulas 5 and 6).
 *
 * ln p = c₀/T + c₁ + c₂T + c₃T² + … + c ln T; valid −100 … 200 °C.
 *
 * @param temperature [K]
 * @returns pressure [Pa]
 * @example saturationPressure(298.15) // 3169.2
 */
export function saturationPressure(temperature: number): number {
  const T = temperature;
  if (T < ICE_POINT) {
    return Math.exp(
      -5.6745359e3 / T +
        6.3925247 +
        T * (-9.677843e-3 + T * (6.2215701e-7 + T * (2.0747825e-9 - T * 9.484024e-13))) +
        4.1635019 * Math.log(T),
    );
  }
  return Math.exp(
    -5.8002206e3 / T +
      1.3914993 +
      T * (-4.8640239e-2 + T * (4.1764768e-5 - T * 1.4452093e-8)) +
      6.5459673 * Math.log(T),
  );
}

/**
 * Humidity ratio W = 0.621945 p_v/(p − p_v), water by mass of dry air (`published`: ASHRAE Fundamentals 2017 ch. 1).
 *
 * @param temperature [K]
 * @param pressure [Pa]
 * @param humidity relative humidity 0…1
 * @returns W [kg/kg]; NaN where the vapour alone would fill the pressure (100 °C at 1 atm, saturated)
 * @example humidityRatio(293.15, 101325, 0.5) // 0.00726
 */
export function humidityRatio(temperature: number, pressure: number, humidity: number): number {
  const vapour = humidity * saturationPressure(temperature);
  return vapour < pressure ? (VAPOUR_RATIO * vapour) / (pressure - vapour) : Number.NaN;
}

/**
 * Density of humid air by partial pressures, ρ = (p − p_v)/(R T) + p_v/(R_w T), R_w = R/0.621945 (eq. 21).
 *
 * @param temperature [K]
 * @param pressure [Pa]
 * @param ratio humidity ratio W [kg/kg]
 * @returns [kg/m³ of humid air]
 * @example humidAirDensity(293.15, 101325, 0) // 1.20411
 */
export function humidAirDensity(temperature: number, pressure: number, ratio: number): number {
  return (pressure * (1 + ratio)) / (GAS_CONSTANT * temperature * (1 + ratio / VAPOUR_RATIO));
}

/**
 * Dynamic viscosity of air, µ = 1.458e-6 T^1.5/(T + 110.4) (eq. 21; `published`: ISO 2533).
 *
 * @param temperature [K]
 * @returns [Pa s]
 * @example airViscosity(293.15) // 1.81341e-5
 */
export function airViscosity(temperature: number): number {
  return (1.458e-6 * temperature * Math.sqrt(temperature)) / (temperature + 110.4);
}

/**
 * Mean free path of air, λ = µ/p · √(π R T/2) (eq. 21).
 *
 * @param temperature [K]
 * @param pressure [Pa]
 * @param viscosity [Pa s]
 * @returns [m]
 */
export function meanFreePath(temperature: number, pressure: number, viscosity: number): number {
  return (viscosity / pressure) * Math.sqrt((Math.PI * GAS_CONSTANT * temperature) / 2);
}

/**
 * Enthalpy of humid air per mass of dry air, h = 1006 t + W(2.501e6 + 1860 t), t in °C (`published`: ASHRAE
 * Fundamentals 2017 ch. 1, formula 30).
 *
 * @param temperature [K]
 * @param ratio W [kg/kg]
 * @returns [J/kg dry air]
 */
export function humidAirEnthalpy(temperature: number, ratio: number): number {
  const t = temperature - ICE_POINT;
  return 1006 * t + ratio * (2.501e6 + 1860 * t);
}

/**
 * Humidity ratio from the wet bulb above freezing (`published`: ASHRAE Fundamentals 2017 ch. 1, formula 33).
 *
 * W = [(2501 − 2.326 t*) W_s(t*) − 1.006 (t − t*)]/(2501 + 1.86 t − 4.186 t*)
 *
 * @param temperature dry bulb [K]
 * @param wetBulb [K]
 * @param pressure [Pa]
 * @returns W [kg/kg]
 */
export function humidityRatioFromWetBulb(temperature: number, wetBulb: number, pressure: number): number {
  const t = temperature - ICE_POINT;
  const wet = wetBulb - ICE_POINT;
  const saturated = humidityRatio(wetBulb, pressure, 1);
  return ((2501 - 2.326 * wet) * saturated - 1.006 * (t - wet)) / (2501 + 1.86 * t - 4.186 * wet);
}

/**
 * Dew point: the temperature at which air of this humidity ratio is saturated, by Newton on ln p.
 *
 * @param ratio W [kg/kg], > 0
 * @param pressure [Pa]
 * @returns [K]; NaN for dry air
 */
export function dewPoint(ratio: number, pressure: number): number {
  if (!(ratio > 0)) return Number.NaN;
  const wanted = Math.log((pressure * ratio) / (VAPOUR_RATIO + ratio));
  let T = 285;
  for (let step = 0; step < 60; step++) {
    const slope = (Math.log(saturationPressure(T * 1.0001)) - Math.log(saturationPressure(T))) / (T * 0.0001);
    const change = (wanted - Math.log(saturationPressure(T))) / slope;
    T += Math.max(-30, Math.min(30, change));
    if (Math.abs(change) < 1e-10 * T) break;
  }
  return T;
}

/**
 * Pressure of the standard atmosphere, p = 101325 (1 − 2.25577e-5 Z)^5.2559 (`published`: ASHRAE Fundamentals 2017
 * ch. 1, formula 3), −5000 … 11000 m.
 *
 * @param altitude Z [m]
 * @returns [Pa]
 * @example pressureAtAltitude(500) // 95461
 */
export function pressureAtAltitude(altitude: number): number {
  return STANDARD_PRESSURE * (1 - 2.25577e-5 * altitude) ** 5.2559;
}

/** Air as it enters: mass flow of humid air, its humidity and density. */
export interface InletAir {
  /** [kg/s] */
  readonly massFlow: number;
  /** W [kg/kg]. */
  readonly humidityRatio: number;
  /** [kg/m³] */
  readonly density: number;
}

/**
 * Mass flow of the air at the inlet. A flow at the standard (15 °C, 101325 Pa) or normal state (0 °C, 101325 Pa) counts
 * dry air; a flow at the inlet state counts humid air as it enters.
 *
 * @param air scenario's air, SI
 * @returns humid mass flow [kg/s], humidity ratio [kg/kg], density at the inlet [kg/m³]
 */
export function inletAir(air: Air): InletAir {
  const ratio = humidityRatio(air.temperature, air.pressure, air.humidity);
  const density = humidAirDensity(air.temperature, air.pressure, ratio);
  if (air.flowState === 'inlet') return { massFlow: air.flow * density, humidityRatio: ratio, density };
  const reference = air.flowState === 'normal' ? ICE_POINT : STANDARD_TEMPERATURE;
  const dry = air.flow * humidAirDensity(reference, STANDARD_PRESSURE, 0);
  return { massFlow: dry * (1 + ratio), humidityRatio: ratio, density };
}
