import type { Parameter, Warning } from '../model/parameters.ts';
import { assumed, PLANT_SOURCES, practice } from './plant-evidence.ts';

/** Numbers of a rotary airlock, SI; a volume left out is the one that fits. */
export interface Airlock {
  readonly pocketVolume?: number;
  readonly speed: number;
  readonly fill: number;
  readonly vanes: number;
  readonly clearance: number;
  readonly dischargeCoefficient: number;
}

/** `plant.airlock`. */
export const AIRLOCK: readonly Parameter[] = [
  {
    name: 'pocketVolume',
    symbol: 'V_r',
    unit: 'm^3',
    shownIn: 'L',
    meaning: 'volume of all pockets, swept in one turn; left out, the airlock is sized for this point',
    exclusiveMinimum: 0,
    optional: true,
  },
  {
    name: 'speed',
    symbol: 'n_a',
    unit: '1/s',
    shownIn: 'rpm',
    meaning: 'rotor speed',
    exclusiveMinimum: 0,
    maximum: 2,
    preset: practice(20 / 60, PLANT_SOURCES.airlocks),
  },
  {
    name: 'fill',
    symbol: 'φ_a',
    unit: '1',
    shownIn: '%',
    meaning: 'share of the pockets that fills; fine aerated powder fills less',
    exclusiveMinimum: 0,
    maximum: 1,
    preset: practice(0.4, PLANT_SOURCES.airlocks),
  },
  {
    name: 'vanes',
    symbol: 'z_a',
    unit: '1',
    shownIn: '1',
    meaning: 'rotor vanes; half of them, less one, seal on each side',
    minimum: 4,
    maximum: 16,
    integer: true,
    preset: practice(8, PLANT_SOURCES.airlocks),
  },
  {
    name: 'clearance',
    symbol: 'δ',
    unit: 'm',
    shownIn: 'mm',
    meaning: 'running clearance of vane tips and ends, worn state',
    exclusiveMinimum: 0,
    maximum: 0.005,
    preset: practice(0.00015, PLANT_SOURCES.airlocks),
  },
  {
    name: 'dischargeCoefficient',
    symbol: 'C_d',
    unit: '1',
    shownIn: '1',
    meaning: 'discharge coefficient of the clearances',
    exclusiveMinimum: 0,
    maximum: 1,
    preset: assumed(0.6),
  },
];

export interface AirlockState {
  /** V_r [m³] and whether it was given. */
  readonly pocketVolume: number;
  readonly given: boolean;
  /** Rotor diameter and length of a rotor as long as wide [m]. */
  readonly diameter: number;
  /** Highest solids rate at the fill assumed [kg/s], and what is asked over it [-]. */
  readonly capacity: number;
  readonly use: number;
  /** Air drawn in by the returning pockets and through the clearances [m³/s of outside air]. */
  readonly pocketLeakage: number;
  readonly clearanceLeakage: number;
  readonly warnings: readonly Warning[];
}

/** Swept volume over D²L of a rotor with its shaft and vanes [-] (`assumed`). */
const SWEPT_SHARE = 0.8 * (Math.PI / 4);

/**
 * Rotary airlock under suction: what it can discharge, and the outside air it lets in (eq. P6).
 *
 * capacity = V_r n φ ρ_b; pockets return full of air, V_r n − F/ρ_p; clearances of area 2δ(L + D) leak
 * C_d A √(2Δp/(z_s ρ)), the pressure shared by z_s = z/2 − 1 sealing vanes (`assumed` form).
 *
 * @param airlock numbers, SI
 * @param duty solids [kg/s], bulk and particle density [kg/m³], pressure difference [Pa], outside air density [kg/m³]
 */
export function airlock(
  { pocketVolume, speed, fill, vanes, clearance, dischargeCoefficient }: Airlock,
  duty: {
    readonly solids: number;
    readonly bulkDensity: number;
    readonly particleDensity: number;
    readonly suction: number;
    readonly airDensity: number;
  },
): AirlockState {
  const volume = pocketVolume ?? (duty.solids * SPARE) / (speed * fill * duty.bulkDensity);
  const diameter = Math.cbrt(volume / SWEPT_SHARE);
  const capacity = volume * speed * fill * duty.bulkDensity;
  const use = duty.solids > 0 ? duty.solids / capacity : 0;
  const sealing = vanes / 2 - 1;
  const area = 2 * clearance * (diameter + diameter);
  const velocity = Math.sqrt((2 * Math.max(0, duty.suction)) / (sealing * duty.airDensity));
  return {
    pocketVolume: volume,
    given: pocketVolume !== undefined,
    diameter,
    capacity,
    use,
    pocketLeakage: Math.max(0, volume * speed - duty.solids / duty.particleDensity),
    clearanceLeakage: dischargeCoefficient * area * velocity,
    warnings:
      use > 1
        ? [
            {
              code: 'airlock-capacity',
              message: `an airlock receives ${Math.round(100 * use)} % of what it can discharge: powder backs up into the cone`,
            },
          ]
        : [],
  };
}

/** Capacity over rate of an airlock sized here [-] (`assumed`). */
const SPARE = 1.5;
