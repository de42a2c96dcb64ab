import type { Warning } from '../../model/parameters.ts';
import type { Sourced } from '../../model/sources.ts';
import type { Scenario } from '../scenario.ts';
import { toShown } from '../units/display.ts';
import { assumptionsInUse } from './assumptions.ts';
import { PLANT_QUANTITIES } from './plant-quantities.ts';
import { QUANTITIES } from './quantities.ts';
import type { Solved } from './quantity.ts';
import { curveOf, type Point } from './solved.ts';
import { judge, type SpecResult } from './spec.ts';
import { warningsAt } from './warnings.ts';

/** Named numbers of one group of `run --json`, each key with its unit. */
export type Group = Readonly<Record<string, number>>;

/** Product of one component or of all: statistics, edges [µm] and cumulative undersize 0…1. */
export type ProductOutcome = Readonly<Record<string, number | readonly number[]>>;

/** `run --json`. Values that do not exist are NaN here and null in JSON. */
export type Outcome = {
  readonly spec: readonly SpecResult[];
  readonly calibration: Readonly<Record<string, unknown>> | null;
  readonly assumptions: readonly (Sourced & { readonly name: string })[];
  readonly warnings: readonly Warning[];
} & (
  | {
      readonly status: 'steady';
      readonly product: ProductOutcome;
      readonly loop: Group;
      readonly rotor: Group;
      readonly wheel: Group;
      readonly air: Group;
      readonly energy: Group;
      /** Present where the scenario has a `plant:`. */
      readonly plant?: Group;
      /** Present where more than one component is fed. */
      readonly components?: readonly {
        readonly name: string;
        readonly product: ProductOutcome;
        readonly cutSize_um: number;
      }[];
    }
  | {
      readonly status: 'choked';
      readonly reason: string;
      readonly message: string;
      readonly loop: Group;
    }
);

/** The keys of `run --json` that hold groups of numbers, as the interface fixes them. */
const KEYS: Readonly<Record<string, readonly string[]>> = {
  product: [
    'x10_um',
    'x50_um',
    'x90_um',
    'x95_um',
    'x97_um',
    'x99_um',
    'span',
    'd32_um',
    'd43_um',
    'surface_m2_per_kg',
  ],
  loop: [
    'passes',
    'circulatingLoad',
    'loading_kg_per_kg',
    'holdup_kg',
    'residence_s',
    'feedAtChoke_kg_per_h',
    'massClosure',
  ],
  rotor: ['tipSpeed_m_per_s', 'hitsPerPass', 'idlePower_kW', 'grindingPower_kW', 'power_kW', 'motorLoad'],
  wheel: [
    'cutSize_um',
    'stokesCutSize_um',
    'sharpness',
    'bypass',
    'rimSpeed_m_per_s',
    'radialVelocity_m_per_s',
    'power_kW',
    'pressureLoss_Pa',
  ],
  air: ['outletTemperature_C', 'flowAtOutlet_m3_per_h', 'productLoading_kg_per_m3'],
  energy: ['specific_kWh_per_t', 'net_kWh_per_t'],
  plant: PLANT_QUANTITIES.map(({ key }) => key),
};

/**
 * Named results of a solved point with their units (State → Outcome).
 *
 * @param scenario the scenario at this point: spec, provenance and calibration travel with the result
 * @param point from `solvePoint`
 */
export function outcomeOf(scenario: Scenario, point: Point): Outcome {
  const common = {
    calibration: scenario.calibration ?? null,
    assumptions: assumptionsInUse(scenario),
    warnings: warningsAt(scenario, point),
  };
  if (point.status === 'choked') {
    const { state } = point;
    return {
      status: 'choked',
      reason: state.reason,
      message: state.message,
      loop: { feedAtChoke_kg_per_h: toShown(state.feedAtChoke, 'kg/h') },
      spec: scenario.spec.map(({ text }) => ({
        text,
        value: Number.NaN,
        limit: Number.NaN,
        margin: Number.NaN,
        met: false,
        probability: null,
      })),
      ...common,
    };
  }
  return {
    status: 'steady',
    product: productOf(point),
    loop: group('loop', point),
    rotor: group('rotor', point),
    wheel: group('wheel', point),
    air: group('air', point),
    energy: group('energy', point),
    ...(point.plant ? { plant: group('plant', point) } : {}),
    ...(point.case.components.length > 1 ? { components: byComponent(point) } : {}),
    spec: judge(scenario.spec, point),
    ...common,
  };
}

function group(name: string, solved: Solved): Group {
  const result: Record<string, number> = {};
  for (const key of KEYS[name]!) {
    const quantity = QUANTITIES.find((each) => each.group === name && each.key === key)!;
    result[key] = toShown(quantity.of(solved), quantity.shownIn);
  }
  return result;
}

function productOf(solved: Solved): ProductOutcome {
  return {
    ...group('product', solved),
    edges_um: Array.from(solved.curve.edges, (edge) => toShown(edge, 'um')),
    undersize: Array.from(solved.curve.undersize),
  };
}

/** Each component as if it alone were the product. */
function byComponent(solved: Solved) {
  return solved.case.components.map((component, index) => {
    const own = solved.state.components[index]!;
    const alone: Solved = {
      case: { ...solved.case, components: [component] },
      state: { ...solved.state, components: [own] },
      curve: curveOf(solved.state.grid, own.product),
    };
    return {
      name: component.material.name,
      product: productOf(alone),
      cutSize_um: toShown(own.cutSize, 'um'),
    };
  });
}
