import { bracket } from '../../model/numerics/root.ts';
import { undersizeAt } from '../../model/psd/curve.ts';
import { shaftSpeed, toCase, withValue } from '../../scenario/operating-point.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber, labelOf, toShown } from '../../scenario/units/display.ts';
import type { LinesAxis } from '../figures/lines.ts';

const MICRO = 1e6;

/** What a step moves: speeds [rpm], feed [kg/h], hits as a factor on the demo rotor's, leakage as a share. */
interface Turned {
  readonly rotor?: number;
  readonly wheel?: number;
  readonly feed?: number;
  readonly hits?: number;
  readonly leakage?: number;
}

/** The mill with some of its numbers set. */
export function set(scenario: Scenario, { rotor, wheel, feed, hits, leakage }: Turned): Scenario {
  let at = scenario;
  if (rotor !== undefined) at = withValue(at, 'rotorSpeed', rotor / 60, 'shaft');
  if (wheel !== undefined) at = withValue(at, 'wheelSpeed', wheel / 60, 'shaft');
  if (feed !== undefined) at = withValue(at, 'feedRate', feed / 3600);
  if (hits !== undefined) at = withValue(at, 'machine.rotor.coefficients.hitFactor', hits);
  if (leakage !== undefined) at = withValue(at, 'wheel.coefficients.leakage', leakage);
  return at;
}

/** Speeds of a mill as a lesson needs them [rpm]: those of its file, and the highest of the rotor and of the chosen wheel. */
export function speedsOf({ machine, settings }: Scenario) {
  const { rotor } = machine;
  const wheel = machine.wheels[settings.wheel]!;
  return {
    rotor: 60 * shaftSpeed(settings.rotorSpeed, rotor.geometry.diameter),
    rotorTop: 60 * rotor.maxSpeed,
    wheel: 60 * shaftSpeed(settings.wheelSpeed, wheel.geometry.diameter),
    wheelTop: 60 * wheel.maxSpeed,
  };
}

/** What the product must be [m, share]: the first size the spec names with its share, else the mill's own x95. */
export function aimOf(scenario: Scenario): { readonly size: number; readonly share: number } {
  for (const { relation, left, right } of scenario.spec) {
    if (relation !== '>=' || left.kind !== 'quantity' || left.name !== 'passing') continue;
    if (left.argument !== undefined && right.kind === 'number')
      return { size: left.argument, share: right.value };
  }
  return { size: quantityNamed('x95')!.of(run(scenario)!), share: 0.95 };
}

/** A number as text, three digits unless said otherwise. */
export const text = (value: number, digits = 3): string => formatNumber(value, digits);

/** The aim in words. */
export function aimWords(scenario: Scenario): string {
  const { size, share } = aimOf(scenario);
  return `${text(100 * share)} % below ${text(size * MICRO)} µm`;
}

/** A speed rounded for a slider [rpm]. */
export const round = (speed: number, step = 10): number => Math.round(speed / step) * step;

/** The same mill without a wheel: what is fed passes the rotor once. */
export function onceThrough(scenario: Scenario): Scenario {
  return withValue(scenario, 'machine.circuit', 'open');
}

/** The same mill fed with nearly one size [m]. */
export function oneSize(scenario: Scenario, size: number): Scenario {
  const feed = { law: 'log-normal', x50: size, spread: 0.02 };
  return { ...scenario, components: [{ ...scenario.components[0]!, share: 1, feed }] };
}

/** Solved, or undefined where it chokes. */
export function run(scenario: Scenario): Solved | undefined {
  const point = solvePoint(toCase(scenario), { choke: false });
  return point.status === 'choked' ? undefined : point;
}

/** A quantity as text with its unit. */
export function said(solved: Solved, name: string): string {
  const { of, shownIn } = quantityNamed(name)!;
  return `${formatNumber(toShown(of(solved), shownIn), 3)} ${labelOf(shownIn)}`.trim();
}

/** Share finer than a size [m], as percent. */
export function finer(solved: Solved, size: number, digits = 3): string {
  return `${formatNumber(100 * undersizeAt(solved.curve, size), digits)} %`;
}

/** Cumulative curve of a product: sizes [µm] and percent finer. */
export function curve({ curve: { edges, undersize } }: Solved): { x: number[]; y: number[] } {
  return {
    x: Array.from(edges, (edge) => edge * MICRO),
    y: Array.from(undersize, (share) => 100 * share),
  };
}

/** Cumulative curve of the feed. */
export function feedCurve({ state }: Solved): { x: number[]; y: number[] } {
  const { feed } = state.components[0]!;
  const total = feed.reduce((sum, each) => sum + each, 0);
  let sum = 0;
  const y = [0];
  for (const each of feed) {
    sum += each;
    y.push((100 * sum) / total);
  }
  return { x: Array.from(state.grid.edges, (edge) => edge * MICRO), y };
}

/** Axes of a cumulative curve. */
export function curveAxes(top: number): { x: LinesAxis; y: LinesAxis } {
  return {
    x: { title: 'size, µm', scale: 'log', range: [1, top] },
    y: { title: 'finer, %', scale: 'linear', range: [0, 100] },
  };
}

const FEWEST = 0.05;
const MOST = 1000;

/** Factor on the hits at which a mill has a share below a size [m]; undefined where none has. */
export function hitsFor(scenario: Scenario, size: number, share: number): number | undefined {
  const at = (hits: number) => {
    const solved = run(set(scenario, { hits }));
    return solved ? undersizeAt(solved.curve, size) : 0;
  };
  const tooFew = (hits: number) => at(hits) < share;
  return tooFew(MOST) ? undefined : bracket(tooFew, FEWEST, MOST, { steps: 40, byRatio: true }).fails;
}
