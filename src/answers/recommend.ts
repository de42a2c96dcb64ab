import { toCase } from '../scenario/operating-point.ts';
import { solvePoint } from '../scenario/outcome/solved.ts';
import type { Factor, Scenario } from '../scenario/scenario.ts';
import { bestGoal, firstToRun, isTie } from '../search/find/best-point.ts';
import { meritOf } from '../search/find/objective.ts';
import { type Change, changedScenario } from './change.ts';
import { factorKind } from './factor-kind.ts';
import type { KeptFeed } from './kept-feed.ts';
import { type Odds, oddsOf } from './odds.ts';
import { type Standing, standingAt } from './standing.ts';
import { candidatesOf, choicesOf, LOOKED_AT, type SweepCandidate, wheelOf } from './sweep-candidates.ts';
import { distinct, ranked, rowsMeeting, scoresOf } from './sweep-ranking.ts';
import { endsOf, factorSi, type SweepTable } from './sweep-table.ts';

/** The settings an answer puts forward. */
export interface Recommendation {
  /**
   * `first`: to be run first; `nearest`: the nearest miss where nothing meets the spec; `file`: those of the file, where
   * nothing is required or one run alone was asked.
   */
  readonly kind: 'first' | 'nearest' | 'file';
  /** What lies between the file and these settings. */
  readonly changes: readonly Change[];
  readonly scenario: Scenario;
  readonly standing: Standing;
  readonly odds: Odds;
  /** Highest feed at these settings and the margin kept below it, where the goal is feed. */
  readonly kept?: KeptFeed;
  /** The best goal if the coefficients are as they stand, where it is another point. */
  readonly nominal?: { readonly scenario: Scenario; readonly kept?: KeptFeed };
  /** Wheels that the samples cannot tell from this one, this one first; and why it was taken. */
  readonly tie?: { readonly wheels: readonly string[]; readonly because: 'trial' | 'order' };
  /** Measured properties that were swept: they are not chosen, the file's values are used. */
  readonly held?: readonly string[];
  /** Settings and designs that stand at an end of what was swept: on that side nothing was looked at. */
  readonly edges?: readonly SweptEdge[];
  /** Points of the sweep that meet the whole spec, of how many. */
  readonly meeting?: number;
  readonly points?: number;
}

/** A factor at the end of its swept range. */
export interface SweptEdge {
  readonly path: string;
  /** In the unit shown. */
  readonly value: number;
  readonly unit: string;
  readonly end: 'lowest' | 'highest';
}

/** The file's own settings as an answer. */
export function asInFile(scenario: Scenario): Recommendation {
  return { kind: 'file', ...judged(scenario, []) };
}

/**
 * The point of a sweep to put forward. Uncalibrated it is the one to run first (`firstToRun`), calibrated the one with the best
 * goal. Where the goal is to feed the most, a tenth is kept below the highest feed that meets everything. Where no point meets
 * the spec, the nearest miss; without a spec, the file's own settings.
 *
 * @param ran wheels that ran in a trial
 */
export function recommend(
  scenario: Scenario,
  factors: readonly Factor[],
  table: SweepTable,
  ran: readonly string[] = [],
): Recommendation {
  if (scenario.spec.length === 0) return { ...asInFile(scenario), points: table.points };
  const rows = rowsMeeting(table);
  const held = factors.map(({ path }) => path).filter((path) => factorKind(path) === 'property');
  const counts = { held, meeting: rows.length, points: table.points };
  if (rows.length === 0) return { ...nearest(scenario, factors, table), ...counts };
  const candidates = candidatesOf(scenario, factors, table, rows);
  const nominal = bestGoal(candidates);
  if (!nominal) return { ...nearest(scenario, factors, table), ...counts };
  const full = inFull(scenario, candidates, nominal);
  const first = scenario.calibration ? bestGoal(full)! : firstToRun(full)!;
  const tie = tieOf(scenario, full, first, ran, wheelsOf(scenario, table));
  const chosen = tie?.chosen ?? first;
  const other = nominal.goal > chosen.goal + NO_BETTER * Math.abs(chosen.goal) ? nominal : undefined;
  return {
    kind: 'first',
    ...judged(scenario, chosen.changes),
    ...(chosen.kept ? { kept: chosen.kept } : {}),
    ...(other ? { nominal: { scenario: other.scenario, ...(other.kept ? { kept: other.kept } : {}) } } : {}),
    ...(tie ? { tie: { wheels: tie.wheels, because: tie.because } } : {}),
    edges: edgesOf(table, chosen.changes),
    ...counts,
  };
}

/** Factors at an end of their swept range; the feed rate has its own sentence on the margin kept. */
function edgesOf({ factors }: SweepTable, changes: readonly Change[]): SweptEdge[] {
  return factors.flatMap((factor): SweptEdge[] => {
    const { path, names, values, measure } = factor;
    const change = changes.find((each) => each.path === path);
    if (names || path === 'feedRate' || typeof change?.value !== 'number') return [];
    const [low, high] = endsOf(values);
    const end = [low, high].findIndex((each) => isAlike(factorSi(factor, each), change.value as number));
    if (!(high > low) || end < 0) return [];
    const value = end === 0 ? low : high;
    return [{ path, value, unit: measure.unit, end: end === 0 ? 'lowest' : 'highest' }];
  });
}

function isAlike(a: number, b: number): boolean {
  return Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));
}

function judged(
  scenario: Scenario,
  changes: readonly Change[],
): Pick<Recommendation, 'changes' | 'scenario' | 'standing' | 'odds'> {
  const changed = changes.length > 0 ? changedScenario(scenario, changes, 'the sweep') : scenario;
  const standing = standingAt(changed, solvePoint(toCase(changed)));
  return { changes, scenario: changed, standing, odds: oddsOf(changed) };
}

/** Candidates looked at in full. */
const IN_FULL = 8;

/** The likeliest candidates, the best of each wheel and the nominal best over all samples. */
function inFull(
  { calibration }: Scenario,
  candidates: readonly SweepCandidate[],
  nominal: SweepCandidate,
): SweepCandidate[] {
  const rest = [...candidates];
  const picked: SweepCandidate[] = [nominal];
  const pick = calibration ? bestGoal : firstToRun;
  for (let k = 0; k < IN_FULL && rest.length > 0; k++) {
    const next = pick(rest)!;
    rest.splice(rest.indexOf(next), 1);
    picked.push(next);
  }
  for (const wheel of new Set(candidates.map(wheelOf))) {
    const own = pick(candidates.filter((each) => wheelOf(each) === wheel));
    if (own) picked.push(own);
  }
  return [...new Set(picked)].map((each) => ({ ...each, meets: oddsOf(each.scenario).meets }));
}

/** Wheels in the order of the file: that of the factor, where the wheel was swept. */
function wheelsOf({ machine }: Scenario, table: SweepTable): readonly string[] {
  return table.factors.find(({ path }) => path === 'wheel')?.names ?? Object.keys(machine.wheels);
}

/** A goal this little better is not worth a word. */
const NO_BETTER = 1e-3;

/** Wheels whose best point the samples cannot tell from the first; the one that ran in a trial is taken, else the first in the file. */
function tieOf(
  scenario: Scenario,
  candidates: readonly SweepCandidate[],
  first: SweepCandidate,
  ran: readonly string[],
  wheels: readonly string[],
): { chosen: SweepCandidate; wheels: readonly string[]; because: 'trial' | 'order' } | undefined {
  const pick = scenario.calibration ? bestGoal : firstToRun;
  const bests = wheels.flatMap((name) => pick(candidates.filter((each) => wheelOf(each) === name)) ?? []);
  const even = bests.filter((each) => wheelOf(each) === wheelOf(first) || isTie(each, first));
  if (even.length < 2) return undefined;
  const tried = even.find((each) => ran.includes(wheelOf(each)));
  const chosen = tried ?? even[0]!;
  const names = [chosen, ...even.filter((each) => each !== chosen)].map(wheelOf);
  const own = chosen === bests.find((each) => wheelOf(each) === wheelOf(first)) ? first : chosen;
  return { chosen: own, wheels: names, because: tried ? 'trial' : 'order' };
}

/** The row with the smallest sum of what is missed relative to the limits; where every point chokes, the nearest to running. */
function nearest(scenario: Scenario, factors: readonly Factor[], table: SweepTable): Recommendation {
  const { worst, missed } = scoresOf(scenario, table);
  const rows = Array.from({ length: table.points }, (_, row) => row);
  const closeness = missed.map((sum, row) =>
    Number.isFinite(sum) ? -sum : -1e9 + (table.steady?.[row] ?? 0),
  );
  const order = distinct(table, ranked(rows, closeness, worst), []).slice(0, LOOKED_AT.nearest);
  const looked = order.map((row) => {
    const changes = choicesOf(factors, table, row);
    const c = toCase(changedScenario(scenario, changes));
    return { changes, miss: meritOf(c, solvePoint(c), { spec: scenario.spec }).violation };
  });
  const best = looked.reduce((a, b) => (b.miss < a.miss ? b : a));
  return { kind: 'nearest', ...judged(scenario, best.changes) };
}
