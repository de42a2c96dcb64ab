import type { Warning } from '../../model/parameters.ts';
import type { Sourced } from '../../model/sources.ts';
import { toCase } from '../operating-point.ts';
import type { Scenario } from '../scenario.ts';
import { toShown } from '../units/display.ts';
import { assumptionsInUse } from './assumptions.ts';
import { QUANTITIES } from './quantities.ts';
import { ADDED, type Solved } from './quantity.ts';
import { curveOf, type Point } from './solved.ts';
import { judge, type SpecResult, unknownResult } from './spec-result.ts';
import { warningsAt } from './warnings.ts';

/** Named numbers of one group of `run --json`, each key with its unit. */
export type Group = Readonly<Record<string, number>>;

/** Product of one component or of all: statistics, edges [µm] and cumulative undersize 0…1. */
type ProductOutcome = Readonly<Record<string, number | readonly number[]>>;

/** Settings of a point: numbers by key, and the wheel by name. */
type SettingsOutcome = Readonly<Record<string, number | string>>;

/** `run --json`. Values that do not exist are NaN here and null in JSON. */
export type Outcome = {
  /** Speeds, feed and air as set, and the wheel. */
  readonly settings: SettingsOutcome;
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
      /** Present where a module of the user's own gave quantities. */
      readonly added?: Group;
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

/**
 * Named results of a solved point with their units (State → Outcome).
 *
 * @param scenario the scenario at this point: spec, provenance and calibration travel with the result
 * @param point from `solvePoint`
 */
export function outcomeOf(scenario: Scenario, point: Point): Outcome {
  const common = {
    settings: settingsOf(scenario, point),
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
      loop: loopAtChoke(state.feedAtChoke, scenario.settings.feedRate),
      spec: scenario.spec.map(unknownResult),
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
    ...(quantitiesOf(ADDED).length > 0 ? { added: group(ADDED, point) } : {}),
    ...(point.case.components.length > 1 ? { components: byComponent(point) } : {}),
    spec: judge(scenario.spec, point),
    ...common,
  };
}

/** Every quantity of a group that needs no argument, by its key. */
function quantitiesOf(group: string) {
  return QUANTITIES.filter((quantity) => quantity.group === group && quantity.argument === undefined);
}

function group(name: string, solved: Solved): Group {
  return Object.fromEntries(
    quantitiesOf(name).map(({ key, of, shownIn }) => [key, toShown(of(solved), shownIn)]),
  );
}

/** Settings read the case alone, so they are known of a point that chokes too. */
function settingsOf(scenario: Scenario, point: Point): SettingsOutcome {
  const c = point.status === 'steady' ? point.case : toCase(scenario);
  return { ...group('settings', { case: c } as Solved), wheel: scenario.settings.wheel };
}

/** What of the loop is known of a point that chokes. */
function loopAtChoke(feedAtChoke: number, feedRate: number): Group {
  return Object.fromEntries(
    quantitiesOf('loop').flatMap(({ key, ofFeedAtChoke, shownIn }) =>
      ofFeedAtChoke ? [[key, toShown(ofFeedAtChoke(feedAtChoke, feedRate), shownIn)]] : [],
    ),
  );
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
