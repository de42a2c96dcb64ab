import { circulationCurve } from '../model/loop/solve.ts';
import type { ChokedState, ComponentState, SteadyState } from '../model/loop/state.ts';
import { toCase } from '../scenario/operating-point.ts';
import { type Outcome, outcomeOf } from '../scenario/outcome/outcome.ts';
import { type Point, solvePoint } from '../scenario/outcome/solved.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { settingsText } from './settings-words.ts';
import type { Gate } from './spec-gates.ts';
import { gatesOf } from './spec-gates.ts';
import { standingAt } from './standing.ts';
import { label, sentence } from './text.ts';
import { pointVerdict } from './verdict-words.ts';

/** A cumulative curve: sizes [µm], share finer 0…1. */
export interface SizeLine {
  readonly name: string;
  readonly sizes: ArrayLike<number>;
  readonly undersize: ArrayLike<number>;
}

/** A wheel's curve as it runs. */
export interface GradeLine {
  readonly name: string;
  /** [µm] */
  readonly sizes: ArrayLike<number>;
  /** Share sent back to the rotor, 0…1. */
  readonly toCoarse: ArrayLike<number>;
  /** Cut size [µm]. */
  readonly cut: number;
  readonly sharpness: number;
  /** Share sent back whatever its size, 0…1. */
  readonly bypass: number;
}

export interface ChokeInput {
  /** What went round over the air, by mass: λ = G/m_air. */
  readonly loading: ArrayLike<number>;
  /** What comes round over what went round, Φ(G)/G. */
  readonly comesBack: ArrayLike<number>;
  /** λ where it runs; absent where it chokes. */
  readonly runsAt?: number;
  /** Feed now and at choke [kg/h]. */
  readonly feedRate: number;
  readonly feedAtChoke: number;
}

export interface BalanceInput {
  /** Class sizes [µm], geometric. */
  readonly sizes: ArrayLike<number>;
  /** Flows by class [kg/h] per octave of size. */
  readonly feed: ArrayLike<number>;
  readonly arriving: ArrayLike<number>;
  readonly product: ArrayLike<number>;
  /** Totals [kg/h]. */
  readonly feedRate: number;
  readonly circulating: number;
}

const MICRO = 1e6;
const PER_HOUR = 3600;

/** Everything about one operating point that the page draws. Plain data. */
export interface PointView {
  /** The same as `run --json`. */
  readonly outcome: Outcome;
  /** What is said of the spec at this point; empty without a spec. */
  readonly verdict: string;
  readonly choke: ChokeInput;
  /** Absent where the mill chokes. */
  readonly curves?: {
    readonly product: SizeLine;
    readonly behind: readonly SizeLine[];
    readonly gates: readonly Gate[];
    readonly grade: readonly GradeLine[];
    readonly balance: BalanceInput;
  };
}

/** Solves one operating point for the page. */
export function pointView(scenario: Scenario): PointView {
  const point = solvePoint(toCase(scenario));
  const outcome = outcomeOf(scenario, point);
  const choke = chokeOf(scenario, point);
  const verdict = pointVerdict(scenario, standingAt(scenario, point));
  if (point.status === 'choked') return { outcome, verdict, choke };
  return { outcome, verdict, choke, curves: curvesOf(scenario, point.state, outcome) };
}

/** Settings and verdict in one sentence. */
export function pointState(scenario: Scenario, { verdict }: Pick<PointView, 'verdict'>): string {
  return `${sentence(settingsText(scenario))}${verdict === '' ? '' : `: ${verdict}`}.`;
}

function curvesOf(
  scenario: Scenario,
  state: SteadyState,
  outcome: Outcome,
): NonNullable<PointView['curves']> {
  const edges = Array.from(state.grid.edges, (edge) => edge * MICRO);
  const feed = summed(state.components, ({ feed: each }) => each);
  const arriving = summed(state.components, ({ arriving: each }) => each);
  const product = summed(state.components, ({ product: each }) => each);
  const curve = (name: string, masses: Float64Array): SizeLine => ({
    name,
    sizes: edges,
    undersize: cumulative(masses),
  });
  return {
    product: curve('product', product),
    behind: [curve('feed', feed), curve('arriving at the wheel', arriving)],
    gates: gatesOf(scenario.spec, outcome.spec),
    grade: state.components.map((component, index) => gradeOf(scenario, state, component, index)),
    balance: balanceOf(state, { feed, arriving, product }),
  };
}

/** Undersize at the edges, exact at 0 and 1. */
function cumulative(masses: Float64Array): number[] {
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  const undersize = [0];
  let sum = 0;
  for (const mass of masses) {
    sum += mass;
    undersize.push(Math.min(1, sum / total));
  }
  return undersize;
}

function summed(
  components: readonly ComponentState[],
  of: (each: ComponentState) => Float64Array,
): Float64Array {
  const sum = Float64Array.from(of(components[0]!));
  for (const component of components.slice(1)) {
    const other = of(component);
    for (let i = 0; i < sum.length; i++) sum[i]! += other[i]!;
  }
  return sum;
}

function gradeOf(
  scenario: Scenario,
  state: SteadyState,
  component: ComponentState,
  index: number,
): GradeLine {
  const several = state.components.length > 1;
  const name = several ? scenario.components[index]!.material.name : scenario.settings.wheel;
  return {
    name: label(name),
    sizes: Array.from(state.grid.sizes, (size) => size * MICRO),
    toCoarse: Array.from(component.leaving, (leaving) => 1 - leaving),
    cut: component.cutSize * MICRO,
    sharpness: state.conditions.sharpness,
    bypass: state.conditions.bypass,
  };
}

type Flows = Readonly<Record<'feed' | 'arriving' | 'product', Float64Array>>;

function balanceOf(state: SteadyState, { feed, arriving, product }: Flows): BalanceInput {
  const octaves = Math.log2(state.grid.ratio);
  const perOctave = (flow: Float64Array) => Array.from(flow, (each) => (each * PER_HOUR) / octaves);
  return {
    sizes: Array.from(state.grid.sizes, (size) => size * MICRO),
    feed: perOctave(feed),
    arriving: perOctave(arriving),
    product: perOctave(product),
    feedRate: feed.reduce((sum, each) => sum + each, 0) * PER_HOUR,
    circulating: state.circulating * PER_HOUR,
  };
}

const CHOKE_POINTS = 40;

function chokeOf(scenario: Scenario, point: Point): ChokeInput {
  const c = toCase(scenario);
  const { airMassFlow } = point.state.conditions;
  const top = c.loop.chokeLoad;
  const low = c.settings.feedRate / airMassFlow;
  const loading = Array.from(
    { length: CHOKE_POINTS },
    (_, i) => low * (top / low) ** (i / (CHOKE_POINTS - 1)),
  );
  const around = circulationCurve(
    c,
    loading.map((each) => each * airMassFlow),
  );
  return {
    loading,
    comesBack: around.map((flow, i) => flow / (loading[i]! * airMassFlow)),
    ...(point.status === 'steady' ? { runsAt: point.state.conditions.loading } : {}),
    feedRate: c.settings.feedRate * PER_HOUR,
    feedAtChoke: (point.state as SteadyState | ChokedState).feedAtChoke * PER_HOUR,
  };
}
