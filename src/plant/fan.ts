import { bracket, middleOf } from '../model/numerics/root.ts';
import type { LawChoice, LawHeader, Parameter, Table } from '../model/parameters.ts';
import { PLANT_SOURCES, practice } from './plant-evidence.ts';

/** A fan's curve of pressure over flow, at its own speed and reference density. */
interface FanLaw extends LawHeader {
  /** Pressure rise [Pa] at a flow [m³/s]; falls below zero beyond the free flow. */
  readonly pressure: (parameters: LawChoice, flow: number) => number;
  /** Flow at no pressure [m³/s]. */
  readonly freeFlow: (parameters: LawChoice) => number;
}

const COMMON: readonly Parameter[] = [
  {
    name: 'density',
    symbol: 'ρ_ref',
    unit: 'kg/m^3',
    shownIn: 'kg/m^3',
    meaning: 'air density the curve was measured at',
    exclusiveMinimum: 0,
    maximum: 10,
    preset: practice(1.2, PLANT_SOURCES.fans),
  },
  {
    name: 'efficiency',
    symbol: 'η_fan',
    unit: '1',
    shownIn: '%',
    meaning: 'efficiency of the fan at the duty, shaft to air',
    exclusiveMinimum: 0,
    maximum: 1,
    preset: practice(0.65, PLANT_SOURCES.fans),
  },
  {
    name: 'speed',
    symbol: 'n/n_ref',
    unit: '1',
    shownIn: '%',
    meaning:
      'fan speed over that of its curve; given, the air follows the fan; left out, the set air flow is held',
    exclusiveMinimum: 0,
    maximum: 2,
    optional: true,
  },
  {
    name: 'motorPower',
    symbol: 'P_fan',
    unit: 'W',
    shownIn: 'kW',
    meaning: 'rated power of the fan motor',
    exclusiveMinimum: 0,
    optional: true,
  },
];

const FLOW: Parameter = {
  name: 'flow',
  symbol: 'Q_1',
  unit: 'm^3/s',
  shownIn: 'm^3/h',
  meaning: 'flow of a point on the curve',
  exclusiveMinimum: 0,
};

const PRESSURE: Parameter = {
  name: 'pressure',
  symbol: 'Δp_1',
  unit: 'Pa',
  shownIn: 'Pa',
  meaning: 'pressure rise at that flow',
  exclusiveMinimum: 0,
};

const parabola: FanLaw = {
  name: 'parabola',
  summary: 'shut-off pressure and one point: Δp = Δp_0 − (Δp_0 − Δp_1)(Q/Q_1)²',
  label: 'practice',
  source: PLANT_SOURCES.fans,
  parameters: [
    {
      name: 'shutOff',
      symbol: 'Δp_0',
      unit: 'Pa',
      shownIn: 'Pa',
      meaning: 'pressure rise at no flow; above that of the point',
      exclusiveMinimum: 0,
    },
    FLOW,
    PRESSURE,
    ...COMMON,
  ],
  pressure: (p, flow) => {
    const zero = p.shutOff as number;
    return zero - (zero - (p.pressure as number)) * (flow / (p.flow as number)) ** 2;
  },
  freeFlow: (p) => {
    const zero = p.shutOff as number;
    return (p.flow as number) * Math.sqrt(zero / (zero - (p.pressure as number)));
  },
};

/** Points of a table may stand at no flow and at no pressure. */
const fromZero = ({ exclusiveMinimum: _, ...rest }: Parameter): Parameter => ({ ...rest, minimum: 0 });

const table: FanLaw = {
  name: 'table',
  summary: 'points of flow and pressure rise, straight between them, the last slope drawn on',
  label: 'given',
  source: PLANT_SOURCES.form,
  parameters: COMMON,
  table: {
    columns: [fromZero(FLOW), fromZero(PRESSURE)],
    typical: [
      [0.2, 5200],
      [0.5, 4500],
      [0.8, 2800],
    ],
  },
  pressure: (p, flow) => alongTable(p.points as Table, flow),
  freeFlow: (p) => {
    const points = p.points as Table;
    const [a, b] = [points[points.length - 2]!, points[points.length - 1]!];
    return b[1] <= 0 ? b[0] : b[0] + (b[1] * (b[0] - a[0])) / Math.max(a[1] - b[1], Number.MIN_VALUE);
  },
};

function alongTable(points: Table, at: number): number {
  let k = 1;
  while (k < points.length - 1 && points[k]![0] < at) k++;
  const [a, b] = [points[k - 1]!, points[k]!];
  // below the first point the curve is taken as flat: a fan near shut-off is not modelled
  if (at <= points[0]![0]) return points[0]![1];
  return a[1] + ((b[1] - a[1]) * (at - a[0])) / (b[0] - a[0]);
}

/** Fan curves by name. */
export const FAN_CURVES: Readonly<Record<string, FanLaw>> = { parabola, table };

/**
 * Pressure rise of a fan at a speed and density, by the fan laws Δp = (ρ/ρ_ref) s² Δp_ref(Q/s) (eq. P18, `derived`).
 *
 * @param choice curve
 * @param speed s, fan speed over that of the curve [-]
 * @param flow at the fan's inlet [m³/s]
 * @param density at the fan's inlet [kg/m³]
 * @returns [Pa]
 */
export function fanPressure(choice: LawChoice, speed: number, flow: number, density: number): number {
  const law = FAN_CURVES[choice.law]!;
  return (density / (choice.density as number)) * speed * speed * law.pressure(choice, flow / speed);
}

/**
 * Fan shaft power, Q Δp/η (eq. P18).
 *
 * @param flow [m³/s]
 * @param rise pressure rise [Pa]
 * @param efficiency [-]
 * @returns [W]
 * @example fanPower(9.439, 995.4, 0.72) // 13 049 W
 */
export function fanPower(flow: number, rise: number, efficiency: number): number {
  return (flow * rise) / efficiency;
}

/**
 * Speed at which a fan gives a pressure rise at a flow: root of (ρ/ρ_ref) s² Δp_ref(Q/s) = Δp.
 *
 * Rising in s wherever the curve falls with flow. The search starts where the flow is the free flow, so at no pressure.
 *
 * @returns s, fan speed over that of the curve [-]; NaN where ten times the curve's speed is not enough
 */
export function fanSpeed(choice: LawChoice, flow: number, rise: number, density: number): number {
  const law = FAN_CURVES[choice.law]!;
  const low = flow / law.freeFlow(choice);
  let high = low;
  while (fanPressure(choice, high, flow, density) < rise) {
    high *= 1.5;
    if (high > 10) return Number.NaN;
  }
  const short = (speed: number) => fanPressure(choice, speed, flow, density) < rise;
  return middleOf(bracket(short, low, high, { within: 1e-15 }));
}
