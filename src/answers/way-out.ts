import { bracket } from '../model/numerics/root.ts';
import type { Expression } from '../scenario/expression/expression.ts';
import { toCase, valueAt, withValue } from '../scenario/operating-point.ts';
import { solvePoint } from '../scenario/outcome/solved.ts';
import type { Scenario, Speed } from '../scenario/scenario.ts';
import { formatNumber, formatQuantity, fromShown, toShown } from '../scenario/units/display.ts';
import { type FoundPoint, findSettings } from '../search/find/find.ts';
import type { Effort } from '../search/find/optimise.ts';
import { type SearchSpace, searchSpace } from '../search/find/space.ts';
import { type Relaxed, relaxedLines } from '../search/find/which-limit-to-relax.ts';
import { listed } from './join-words.ts';
import { standingOf } from './standing.ts';
import { pathInWords, requirementWords } from './words.ts';

/** Settings that can be turned at the machine, with the unit of a panel. */
const SETTINGS = [
  { path: 'wheelSpeed', unit: 'rpm' },
  { path: 'rotorSpeed', unit: 'rpm' },
  { path: 'feedRate', unit: 'kg/h' },
  { path: 'air.flow', unit: 'm^3/h' },
] as const;

/** One setting changed, the others as they are, SI. */
export interface SettingChange {
  readonly path: (typeof SETTINGS)[number]['path'];
  readonly unit: string;
  readonly from: number;
  readonly to: number;
}

/** How the spec can be met from a point that misses it. */
export type WayOut =
  | { readonly kind: 'one'; readonly change: SettingChange }
  | { readonly kind: 'several'; readonly changes: readonly SettingChange[] }
  | { readonly kind: 'relax'; readonly relaxed: readonly Relaxed[] };

/** What a search from a point may spend; it only has to find a way, not the best one. */
const LIGHT: Effort = { points: 192, population: 24, generations: 50, starts: 1, polls: 40 };

/**
 * The smallest change that meets the spec: of one setting where that is enough, else of speeds and feed together within the
 * machine's ranges; where nothing does, which requirement would have to give.
 */
export function wayOut(scenario: Scenario): WayOut {
  const ones = SETTINGS.flatMap((setting) => changeOf(scenario, setting) ?? []);
  const [least] = [...ones].sort((a, b) => sizeOf(a) - sizeOf(b));
  if (least) return { kind: 'one', change: least };
  const space = spaceOf(scenario);
  const found = findSettings(scenario, space, { goal: smallestChange(scenario), effort: LIGHT });
  if (found.meets) return { kind: 'several', changes: changesOf(scenario, found.best) };
  return { kind: 'relax', relaxed: relaxedLines(scenario, space, 1, LIGHT) };
}

const sizeOf = ({ from, to }: SettingChange): number => Math.abs(Math.log(to / from));

/** Factors tried outward from 1, up and down. */
const OUTWARD = [1.01, 1.02, 1.03, 1.05, 1.07, 1.1, 1.15, 1.2, 1.3, 1.4, 1.5, 1.6, 1.8, 2] as const;
/** A feed may come down further. */
const FURTHER = [2.5, 3, 4, 5, 7, 10, 20] as const;
const HALVINGS = 12;
/** A round number lies no further beyond the edge than this. */
const NEAR = 1.01;

/** The change of one setting nearest to none that meets the whole spec, in round numbers; undefined within half and double, for the feed within a twentieth. */
function changeOf(scenario: Scenario, { path, unit }: (typeof SETTINGS)[number]): SettingChange | undefined {
  const meets = (factor: number) => standingOf(times(scenario, path, factor)).meets;
  const steps = path === 'feedRate' ? [...OUTWARD, ...FURTHER] : OUTWARD;
  for (const [k, step] of steps.entries()) {
    for (const factor of [step, 1 / step]) {
      if (!meets(factor)) continue;
      const before = steps[k - 1] ?? 1;
      const fails = factor > 1 ? before : 1 / before;
      const edge = bracket(meets, factor, fails, { steps: HALVINGS }).holds;
      const from = settingOf(scenario, path);
      const to = roundedInside(from, edge, unit, meets);
      return { path, unit, from, to };
    }
  }
  return undefined;
}

/** A value a panel can take just inside the edge; three digits, more where three do not meet the spec. */
function roundedInside(from: number, edge: number, unit: string, meets: (factor: number) => boolean): number {
  const shown = toShown(from * edge, unit);
  for (let digits = 2; digits <= 5; digits++) {
    const step = 10 ** (Math.floor(Math.log10(shown)) + 1 - digits);
    const rounded = (edge > 1 ? Math.ceil(shown / step - 1e-9) : Math.floor(shown / step + 1e-9)) * step;
    const value = fromShown(Number(rounded.toPrecision(digits + 1)), unit);
    const within = edge > 1 ? value / from <= edge * NEAR : value / from >= edge / NEAR;
    if (within && meets(value / from)) return value;
  }
  return from * edge;
}

function settingOf(scenario: Scenario, path: SettingChange['path']): number {
  const c = toCase(scenario);
  return path === 'air.flow' ? c.air.flow : c.settings[path];
}

function times(scenario: Scenario, path: SettingChange['path'], factor: number): Scenario {
  const value = valueAt(scenario, path) as number;
  const setting = (scenario.settings as unknown as Record<string, Speed | number | string>)[path];
  const as = typeof setting === 'object' ? setting.as : undefined;
  return withValue(scenario, path, value * factor, as);
}

/** Feeds searched, as shares of the feed at which the mill chokes here, or of the feed as it is where that is less. */
const FEEDS = [0.02, 2] as const;

/** Speeds within the machine's ranges and feeds about those that run, behind the chosen wheel. */
function spaceOf(scenario: Scenario): SearchSpace {
  const { sweep: _sweep, ...rest } = scenario;
  const { wheel } = scenario.settings;
  const runs = feedThatRuns(scenario);
  const ranges = { ...rest.machine.ranges, feedRate: { from: FEEDS[0] * runs, to: FEEDS[1] * runs } };
  const machine = { ...rest.machine, ranges, wheels: { [wheel]: rest.machine.wheels[wheel]! } };
  return searchSpace({ ...rest, machine }) as SearchSpace;
}

/** The feed as it is, or at which the mill chokes where that is less [kg/s]. */
function feedThatRuns(scenario: Scenario): number {
  const { feedRate } = scenario.settings;
  const { feedAtChoke } = solvePoint(toCase(scenario)).state;
  return feedAtChoke > 0 ? Math.min(feedAtChoke, feedRate) : feedRate;
}

/** The sum of the squares of the relative changes, to be made small; of the feed from what runs. */
function smallestChange(scenario: Scenario) {
  const settings = { ...toCase(scenario).settings, feedRate: feedThatRuns(scenario) };
  const square = (name: 'wheelSpeed' | 'rotorSpeed' | 'feedRate'): Expression => {
    const quantity: Expression = { kind: 'quantity', name };
    const ratio: Expression = {
      kind: 'binary',
      operator: '/',
      left: quantity,
      right: number(settings[name]),
    };
    const off: Expression = { kind: 'binary', operator: '-', left: ratio, right: number(1) };
    return { kind: 'binary', operator: '*', left: off, right: off };
  };
  const expression = [square('wheelSpeed'), square('rotorSpeed'), square('feedRate')].reduce(
    (left, right): Expression => ({ kind: 'binary', operator: '+', left, right }),
  );
  return { sense: 'minimise', expression } as const;
}

function number(value: number): Expression {
  return { kind: 'number', value };
}

function changesOf(scenario: Scenario, { scenario: there }: FoundPoint): SettingChange[] {
  return SETTINGS.flatMap(({ path, unit }) => {
    const [from, to] = [settingOf(scenario, path), settingOf(there, path)];
    return Math.abs(to / from - 1) > 1e-3 ? [{ path, unit, from, to }] : [];
  });
}

/** The way out in words. */
export function wayOutText(scenario: Scenario): string {
  const way = wayOut(scenario);
  const runs = solvePoint(toCase(scenario), { choke: false }).status === 'steady';
  const aim = runs ? 'To meet the whole spec' : 'To run and meet the whole spec';
  switch (way.kind) {
    case 'one':
      return `${aim}, change one setting: ${changeText(way.change)}.`;
    case 'several':
      return `${aim}, change: ${listed(way.changes.map(changeText))}.`;
    case 'relax':
      return way.relaxed.length === 0
        ? 'No speeds and feed rate of this machine and wheel meet the whole spec, and relaxing one requirement is not enough.'
        : `No speeds and feed rate of this machine and wheel meet the whole spec. Relaxing one requirement, all others met: ${way.relaxed.map((each) => relaxedText(scenario, each)).join('; ')}.`;
  }
}

/** `wheel speed 1500 → 1690 rpm (+13 %)`. */
function changeText({ path, unit, from, to }: SettingChange): string {
  const share = (to / from - 1) * 100;
  const sign = share < 0 ? '−' : '+';
  return `${pathInWords(path)} ${formatNumber(toShown(from, unit), 4)} → ${formatQuantity(to, unit, 4)} (${sign}${formatNumber(Math.abs(share), 2)} %)`;
}

/** `"95 % below 60 µm" becomes 91 %`. */
function relaxedText({ spec }: Scenario, { line }: Relaxed): string {
  const requirement = spec.find(({ text }) => text === line.text)!;
  const reached = fromShown(line.value, requirement.shownIn);
  const words = `"${requirementWords(requirement)}"`;
  return `${words} could reach ${formatQuantity(reached, requirement.shownIn, 3)}`;
}
