import type { Requirement } from '../scenario/expression/expression.ts';
import { type Outcome, outcomeOf } from '../scenario/outcome/outcome.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber, formatQuantity, labelOf } from '../scenario/units/display.ts';
import type { AnswerTable } from './document.ts';
import { listed } from './join-words.ts';
import { marginLines } from './margin-words.ts';
import type { Odds } from './odds.ts';
import type { Recommendation } from './recommend.ts';
import { settingsText } from './settings-words.ts';
import { goalIsFeed } from './sweep-candidates.ts';
import { sentence as capital, label } from './text.ts';
import { type Verdict, verdictOf } from './verdict.ts';
import { chokedText, missesText, oddsText, openingOf, pointVerdict } from './verdict-words.ts';
import { wayOutText } from './way-out.ts';
import { goalWords, pathInWords, requirementTopic, requirementWords } from './words.ts';

/** The answer of a run or of a sweep: one sentence to read out, what stands second, and the spec, requirement by requirement. */
export interface Answer {
  readonly meets: boolean;
  /** `Uncalibrated estimate, for planning a first trial:` or the trials it is calibrated on. */
  readonly opening: string;
  readonly sentence: string;
  /** Ties, margins, and the way out. */
  readonly second: readonly string[];
  readonly spec: readonly SpecRow[];
  /** Null without a spec. */
  readonly verdict: Verdict | null;
}

export interface SpecRow {
  readonly required: string;
  readonly unit: string;
  readonly got: string;
  readonly limit: string;
  readonly margin: string;
  readonly met: boolean;
  /** Middle 80 % over the samples of the coefficients; empty where the mill chokes in all of them. */
  readonly range: string;
  /** Percent of the samples that meet it. */
  readonly probability: string;
}

/** What is said of settings for want of a spec. */
export const ADD_A_SPEC =
  'The scenario has no spec. Add what the product must meet to the file, e.g. spec: [ "passing(75 um) >= 95 %" ]; grindloop quantities lists every name.';

/**
 * Puts a recommendation into words.
 *
 * @param file scenario the recommendation was made from
 */
export function answerOf(recommendation: Recommendation, file: Scenario): Answer {
  const { scenario, standing, odds } = recommendation;
  const outcome = outcomeOf(scenario, standing.point);
  return {
    meets: standing.meets && scenario.spec.length > 0,
    opening: openingOf(scenario),
    sentence: sentenceOf(recommendation, file, outcome),
    second: secondOf(recommendation, file),
    spec: outcome.spec.map((result, k) => specRow(scenario.spec[k]!, result, odds, k)),
    verdict: verdictOf(scenario, standing, odds),
  };
}

/** The first sentence: what to run, what it gives, and how probable that is. */
function sentenceOf(recommendation: Recommendation, file: Scenario, outcome: Outcome): string {
  const { kind, scenario, standing, odds, changes, points } = recommendation;
  const settings = settingsText(scenario, file, changes);
  const odd = scenario.spec.length > 0 ? `; ${oddsText(scenario, odds)}` : '';
  if (outcome.status === 'choked') {
    const where = kind === 'nearest' ? 'every point of the sweep chokes; the nearest to running is ' : '';
    return `${where}${settings}: ${chokedText(standing)}${odd}.`;
  }
  const results = resultsText(scenario, outcome, odds);
  if (kind === 'first') return `run ${settings}: ${results}${odd}.`;
  if (kind === 'nearest')
    return `no point of the sweep meets the whole spec; the nearest, ${settings}, misses ${missesText(scenario, standing)}: ${results}${odd}.`;
  if (scenario.spec.length === 0) {
    const swept = points === undefined ? '' : ', as in the file';
    return `${settings}${swept}: ${results}.`;
  }
  return `${settings}: ${results}; ${pointVerdict(scenario, standing)}${odd}.`;
}

function secondOf(recommendation: Recommendation, file: Scenario): string[] {
  const { kind, scenario, standing, meeting, points } = recommendation;
  if (scenario.spec.length === 0) return [ADD_A_SPEC];
  const counted =
    kind === 'first' && meeting !== undefined
      ? [`${meeting} of ${points} points of the sweep meet the whole spec.`]
      : [];
  const held = heldText(recommendation);
  if (!standing.meets) return [wayOutText(scenario), ...held];
  return [
    ...tieText(recommendation),
    ...marginLines(recommendation),
    ...nominalText(recommendation, file),
    ...held,
    ...counted,
  ];
}

/** What was swept and cannot be chosen. */
function heldText({ held = [] }: Recommendation): string[] {
  if (held.length === 0) return [];
  const names = listed(held.map(pathInWords));
  const [is, value] = held.length > 1 ? ['are', 'values are'] : ['is', 'value is'];
  return [`${capital(names)} ${is} measured, not chosen: the file's ${value} used here.`];
}

/** Wheels that cannot be told apart, and why this one is named. */
function tieText({ tie, scenario }: Recommendation): string[] {
  if (!tie) return [];
  return [tieWords(scenario, tie.wheels, tie.because)];
}

/** Which wheels cannot be told apart, the first named, and why it is that one. */
export function tieWords(
  { calibration }: Pick<Scenario, 'calibration'>,
  wheels: readonly string[],
  because: 'trial' | 'order',
): string {
  const [first, ...others] = wheels.map((name) => label(name));
  const why =
    because === 'trial'
      ? 'is named because it ran in a trial'
      : 'is named because it is the first in the file';
  const by = calibration ? 'the calibration' : 'these coefficients';
  return `A tie: ${by} cannot separate ${first} from ${others.join(', ')}; ${first} ${why}.`;
}

/** The best if the coefficients are as they stand. */
function nominalText({ nominal }: Recommendation, file: Scenario): string[] {
  if (!nominal) return [];
  const { scenario, kept } = nominal;
  const at = settingsText(scenario);
  if (kept && goalIsFeed(scenario)) {
    const most = formatQuantity(kept.limit.value, 'kg/h', 3);
    return [
      `If the coefficients are as assumed, up to ${most} is possible with ${at.replace(/, [^,]* kg\/h.*$/, '')}.`,
    ];
  }
  return [
    `If the coefficients are as assumed, ${file.goal ? `"${goalWords(file.goal)}"` : 'the largest margin'} is best with ${at}.`,
  ];
}

/** Sizes as required, power and outlet temperature. */
export function resultsText(
  { spec, machine }: Scenario,
  outcome: Outcome & { status: 'steady' },
  odds?: Odds,
): string {
  const sizes = sizeGroups(spec).flatMap((places) =>
    sizeText(
      places.map((k) => spec[k]!),
      outcome.spec[places[0]!]!.value,
      odds?.lines[places[0]!],
    ),
  );
  const fineness = sizes.length > 0 ? sizes : [`x95 ${formatNumber(outcome.product.x95_um as number, 3)} µm`];
  const power = `${formatNumber(outcome.rotor.power_kW!, 2)} of ${formatQuantity(machine.rotor.motor.power, 'kW', 3)}`;
  return [...fineness, power, `outlet ${formatNumber(outcome.air.outletTemperature_C!, 2)} °C`].join(', ');
}

/** Places of the requirements on one quantity together, in the order of the file. */
function sizeGroups(spec: Scenario['spec']): number[][] {
  const groups = new Map<string, number[]>();
  spec.forEach(({ left, text }, k) => {
    const name = left.kind === 'quantity' ? `${left.name} ${left.argument ?? ''}` : text;
    groups.set(name, [...(groups.get(name) ?? []), k]);
  });
  return [...groups.values()];
}

/** `96 % below 75 µm (at least 95 % required, plausibly 73 to 99.8)` of requirements on one size or share. */
function sizeText(
  requirements: readonly Requirement[],
  value: number,
  line: Odds['lines'][number] | undefined,
): string[] {
  const { left, shownIn } = requirements[0]!;
  const bounds = requirements.flatMap(({ right, relation }) =>
    right.kind === 'number' ? [`${boundWord(relation)} ${formatQuantity(right.value, shownIn, 3)}`] : [],
  );
  const sized = requirements.every((one) => requirementTopic(one) === 'fineness');
  if (left.kind !== 'quantity' || !sized || bounds.length < requirements.length) return [];
  const got = `${formatNumber(value, 3)} ${labelOf(shownIn)}`;
  const known = line && Number.isFinite(line.low);
  const plausible = known ? `, plausibly ${formatNumber(line.low, 2)} to ${formatNumber(line.high, 3)}` : '';
  const required = `(${bounds.join(' and ')} required${plausible})`;
  if (left.argument === undefined) return [`${left.name} ${got} ${required}`];
  const side = left.name === 'oversize' ? 'above' : 'below';
  return [`${got} ${side} ${formatQuantity(left.argument, 'um', 3)} ${required}`];
}

function boundWord(relation: Requirement['relation']): string {
  return relation.startsWith('>') ? 'at least' : 'at most';
}

function specRow(requirement: Requirement, result: Outcome['spec'][number], odds: Odds, k: number): SpecRow {
  const line = odds.lines[k]!;
  const digits = (value: number) => formatNumber(value, 3);
  return {
    required: requirementWords(requirement),
    unit: labelOf(requirement.shownIn),
    got: digits(result.value),
    limit: digits(result.limit),
    margin: digits(result.margin).replace('-', '−'),
    met: result.met,
    range: line.high > line.low ? `${digits(line.low)} to ${digits(line.high)}` : '',
    probability: `${Math.round((100 * line.met) / odds.samples)}`,
  };
}

/** The spec, requirement by requirement; only the value that fails is coloured. */
export function specTable(spec: readonly SpecRow[]): AnswerTable {
  const ranged = spec.some(({ range }) => range !== '');
  const heads = [
    'required',
    'met',
    'value',
    'margin',
    'limit',
    'unit',
    ...(ranged ? ['plausible range, 10 to 90 %', 'sets that meet it, %'] : []),
  ];
  return {
    caption: 'The spec, requirement by requirement',
    columns: heads.map((name) => ({ name })),
    rows: spec.map((row) => [
      row.required,
      row.met ? 'yes' : 'no',
      { text: row.got, fails: !row.met },
      row.margin,
      row.limit,
      row.unit,
      ...(ranged ? [row.range, row.probability] : []),
    ]),
  };
}
