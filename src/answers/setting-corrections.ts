import { bracket, middleOf } from '../model/numerics/root.ts';
import { toCase, valueAt, withValue } from '../scenario/operating-point.ts';
import { rotorTooFast, wheelTooFast } from '../scenario/outcome/overspeed.ts';
import { quantityNamed } from '../scenario/outcome/quantities.ts';
import { type Point, solvePoint } from '../scenario/outcome/solved.ts';
import { marginOf } from '../scenario/outcome/spec.ts';
import type { Scenario, Speed } from '../scenario/scenario.ts';
import { formatNumber, labelOf, toShown, toShownDifference } from '../scenario/units/display.ts';
import { amountText } from './verdict-words.ts';
import { pathInWords, requirementWords } from './words.ts';

/** A wish about the product or the machine. */
interface Wish {
  readonly key: string;
  /** `x95 is 5 µm too coarse`. */
  readonly words: string;
  readonly quantity: string;
  readonly argument?: number;
  /** Change wanted, SI. */
  readonly change: number;
  /** Present of a requirement: whether this point misses it. */
  readonly missed?: boolean;
}

const WISHES: readonly Wish[] = [
  { key: 'coarse', words: 'x95 is 5 µm too coarse', quantity: 'x95', change: -5e-6 },
  { key: 'fine', words: 'x95 is 5 µm too fine', quantity: 'x95', change: 5e-6 },
  { key: 'fines', words: 'x10 is 1 µm too fine', quantity: 'x10', change: 1e-6 },
  { key: 'warm', words: 'the outlet is 5 °C too warm', quantity: 'outletTemperature', change: -5 },
  { key: 'power', words: 'the rotor draws 1 kW too much', quantity: 'rotorPower', change: -1000 },
];

/** What is seen to change, with the unit of a difference. */
const COSTS = [
  { name: 'x95', unit: 'um', head: 'x95, µm' },
  { name: 'x10', unit: 'um', head: 'x10, µm' },
  { name: 'rotorPower', unit: 'kW', head: 'rotor power, kW' },
  { name: 'outletTemperature', unit: 'K', head: 'outlet, °C' },
] as const;

/** One setting turned until the wish is met. */
export interface Turn {
  readonly setting: string;
  /** `1500 → 1620 rpm (+8 %)`, or why it cannot. */
  readonly turn: string;
  /** Change of each cost, signed; empty where it cannot. */
  readonly costs: readonly string[];
}

export interface TurnsView {
  readonly heads: readonly string[];
  readonly wishes: readonly {
    readonly key: string;
    readonly words: string;
    readonly turns: readonly Turn[];
    /** Present of a requirement: whether this point misses it; nothing is to be turned where it does not. */
    readonly missed?: boolean;
  }[];
}

/** Settings one can turn at the machine, with the unit shown. */
const KNOBS = [
  { path: 'wheelSpeed', unit: 'rpm' },
  { path: 'rotorSpeed', unit: 'rpm' },
  { path: 'feedRate', unit: 'kg/h' },
  { path: 'air.flow', unit: 'm^3/h' },
] as const;

/** The settings in words, in the order of the rows. */
export const SETTINGS_SHOWN: readonly string[] = KNOBS.map(({ path }) => pathInWords(path));

/**
 * How far to turn each setting alone and what that costs: for each requirement by just as much as it is missed, then for wishes
 * about a trial that comes out a little off.
 */
export function turnsView(scenario: Scenario): TurnsView {
  const base = solvePoint(toCase(scenario), { choke: false });
  const wishes = [...requirementWishes(scenario, base), ...WISHES].map((wish) => ({
    key: wish.key,
    words: wish.words,
    turns:
      base.status === 'choked' || wish.missed === false
        ? []
        : KNOBS.map((knob) => turnOf(scenario, base, knob, wish)),
    ...(wish.missed === undefined ? {} : { missed: wish.missed }),
  }));
  return { heads: ['setting', 'from and to', ...COSTS.map(({ head }) => head)], wishes };
}

/** Requirements on one quantity with a number as its limit, those on settings left out. */
function requirementWishes({ spec }: Scenario, base: Point): Wish[] {
  return spec.flatMap((requirement, k): Wish[] => {
    const { left, right } = requirement;
    if (left.kind !== 'quantity' || right.kind !== 'number') return [];
    if (quantityNamed(left.name)!.group === 'settings') return [];
    const argument = left.argument === undefined ? {} : { argument: left.argument };
    const common = { key: `requirement-${k}`, quantity: left.name, ...argument };
    const margin = base.status === 'steady' ? marginOf(requirement, base) : Number.NaN;
    const name = `"${requirementWords(requirement)}"`;
    if (!(margin < 0)) return [{ ...common, words: `${name} is met`, change: 0, missed: false }];
    const { shownIn } = requirement;
    const by = amountText(toShownDifference(-margin, shownIn), labelOf(shownIn));
    const change = requirement.relation.startsWith('>') ? -margin : margin;
    return [{ ...common, words: `${name} is missed by ${by}`, change, missed: true }];
  });
}

function turnOf(
  scenario: Scenario,
  base: Point & { status: 'steady' },
  { path, unit }: (typeof KNOBS)[number],
  { quantity, argument, change }: Wish,
): Turn {
  const setting = pathInWords(path);
  const value = quantityNamed(quantity)!.of;
  const of = (point: Point & { status: 'steady' }) => value(point, argument);
  const wanted = of(base) + change;
  const solveAt = (factor: number) => solvePoint(toCase(turned(scenario, path, factor)), { choke: false });
  const miss = (factor: number) => {
    const point = solveAt(factor);
    return point.status === 'steady' ? of(point) - wanted : Number.NaN;
  };
  const factor = rootNear(miss, -change);
  if (factor === undefined) return { setting, turn: 'not between half and twice its value', costs: [] };
  const point = solveAt(factor) as Point & { status: 'steady' };
  const from = toShown(settingOf(base, path), unit);
  const share = (factor - 1) * 100;
  const text = `${formatNumber(from, 4)} → ${formatNumber(from * factor, 4)} ${unit.replace('m^3', 'm³')} (${signed(share, 2)} %)`;
  const over = speedFault(point);
  const costs = COSTS.map(({ name, unit: costUnit }) => {
    const cost = quantityNamed(name)!.of;
    return signed(toShown(cost(point) - cost(base), costUnit), 2);
  });
  return { setting, turn: over ? `${text}: ${over}` : text, costs };
}

function speedFault({ case: c }: Point & { status: 'steady' }): string | undefined {
  if (rotorTooFast(c)) return 'above the highest rotor speed';
  return wheelTooFast(c) ? 'above the highest wheel speed' : undefined;
}

function settingOf({ case: c }: Point & { status: 'steady' }, path: (typeof KNOBS)[number]['path']): number {
  return path === 'air.flow' ? c.air.flow : c.settings[path];
}

function turned(scenario: Scenario, path: string, factor: number): Scenario {
  const value = valueAt(scenario, path) as number;
  const setting = (scenario.settings as unknown as Record<string, Speed | number | string>)[path];
  const as = typeof setting === 'object' ? setting.as : undefined;
  return withValue(scenario, path, value * factor, as);
}

/** Factors tried outward from 1. */
const OUTWARD = [1.01, 1.03, 1.07, 1.15, 1.3, 1.6, 2];

/**
 * The factor nearest to 1 at which `miss` is zero, by bisection of the first interval that holds it.
 *
 * @param atOne miss(1)
 */
function rootNear(miss: (factor: number) => number, atOne: number): number | undefined {
  const ends = [1, 1];
  const values = [atOne, atOne];
  for (const step of OUTWARD) {
    for (const side of [0, 1]) {
      const next = side === 0 ? step : 1 / step;
      const value = miss(next);
      if (Number.isNaN(value)) continue;
      const isAbove = values[side]! > 0;
      if (value > 0 !== isAbove)
        return middleOf(bracket((at) => miss(at) > 0 === isAbove, ends[side]!, next, { within: 1e-6 }));
      ends[side] = next;
      values[side] = value;
    }
  }
  return undefined;
}

function signed(value: number, digits: number): string {
  const text = formatNumber(Math.abs(value), digits);
  return value < 0 ? `−${text}` : `+${text}`;
}
