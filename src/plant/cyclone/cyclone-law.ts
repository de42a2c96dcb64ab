import type { LawChoice, LawHeader, Parameter, Warning } from '../../model/parameters.ts';
import { assumed, practice } from '../plant-evidence.ts';

/** One solid arriving at a cyclone: rate by class [kg/s], particle density [kg/m³]. */
interface DustStream {
  readonly density: number;
  readonly rates: Float64Array;
}

/** What one cyclone is given. */
export interface CycloneDuty {
  /** Gas volume flow [m³/s], density [kg/m³], viscosity [Pa s]. */
  readonly flow: number;
  readonly airDensity: number;
  readonly viscosity: number;
  /** Representative sizes of the classes [m], common to all streams. */
  readonly sizes: Float64Array;
  readonly streams: readonly DustStream[];
  /** Bulk density of the powder [kg/m³]. */
  readonly bulkDensity: number;
  /** Gas velocity in the line before the inlet [m/s]. */
  readonly approach: number;
}

/** What one cyclone does with it. */
export interface CycloneState {
  readonly inletVelocity: number;
  /** Cut size of each stream [m]: half is kept of what is left to the vortex. */
  readonly cutSizes: readonly number[];
  /** Share kept, by stream and class. */
  readonly kept: readonly Float64Array[];
  /** Share of all solids thrown out at the inlet because the gas cannot carry more; 0 where the law knows none. */
  readonly thrownOut: number;
  readonly pressureLoss: number;
  readonly warnings: readonly Warning[];
}

/** A cyclone model; proportions are parameters, as multiples of the diameter. */
export interface CycloneLaw extends LawHeader {
  /** Inlet area over D² [-]. */
  readonly inletArea: (parameters: LawChoice) => number;
  readonly separate: (parameters: LawChoice, diameter: number, duty: CycloneDuty) => CycloneState;
}

/** Parameters of every cyclone law. */
export const CYCLONE: readonly Parameter[] = [
  {
    name: 'diameter',
    symbol: 'D_c',
    unit: 'm',
    shownIn: 'mm',
    meaning: 'barrel diameter; left out, it is sized for `inletVelocity` at the air flow set',
    exclusiveMinimum: 0,
    maximum: 10,
    optional: true,
  },
  {
    name: 'inletVelocity',
    symbol: 'v_in',
    unit: 'm/s',
    shownIn: 'm/s',
    meaning: 'inlet velocity a cyclone left out is sized for',
    exclusiveMinimum: 0,
    maximum: 40,
    preset: practice(16, 'common practice of cyclones'),
  },
  {
    name: 'count',
    symbol: 'n_c',
    unit: '1',
    shownIn: '1',
    meaning: 'equal cyclones in parallel',
    minimum: 1,
    maximum: 64,
    integer: true,
    preset: assumed(1),
  },
];

/** One proportion of a cyclone as a parameter: a length over the diameter. */
export function proportion(
  name: string,
  symbol: string,
  meaning: string,
  value: number,
  source: string,
): Parameter {
  return {
    name,
    symbol,
    unit: '1',
    shownIn: '1',
    meaning: `${meaning}, over the diameter`,
    exclusiveMinimum: 0,
    maximum: 10,
    preset: { value, label: 'recalled', source },
  };
}

/** Diameter of each of `count` cyclones [m]: as given, or for the design velocity at the design flow [m³/s]. */
export function cycloneDiameter(law: CycloneLaw, choice: LawChoice, designFlow: number): number {
  if (choice.diameter !== undefined) return choice.diameter as number;
  const each = designFlow / (choice.count as number);
  return Math.sqrt(each / ((choice.inletVelocity as number) * law.inletArea(choice)));
}

/** Inlet velocities without a caution [m/s] (`practice`). */
const USUAL_INLET: readonly [number, number] = [8, 25];

/** Cautions on the inlet velocity. */
export function inletWarnings(velocity: number): Warning[] {
  const [least, most] = USUAL_INLET;
  if (velocity < least) {
    return [
      {
        code: 'cyclone-inlet',
        message: `the cyclone inlet runs at ${velocity.toFixed(1)} m/s: below ${least} m/s powder settles in it and separation fades`,
      },
    ];
  }
  if (velocity > most) {
    return [
      {
        code: 'cyclone-inlet',
        message: `the cyclone inlet runs at ${velocity.toFixed(1)} m/s: above ${most} m/s expect wear, breakage and re-entrainment`,
      },
    ];
  }
  return [];
}
