import type { Requirement } from '../scenario/expression/expression.ts';
import { toCase } from '../scenario/operating-point.ts';
import type { Outcome } from '../scenario/outcome/outcome.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber, formatQuantity, labelOf } from '../scenario/units/display.ts';
import { type RangeView, rangeView } from './coefficient-range.ts';
import { endWords } from './limit-words.ts';
import { BY_RANGE, type End, reachOf } from './reach.ts';
import { IN_HAND, type Recommendation, worstLine } from './recommend.ts';
import { label } from './text.ts';
import { requirementTopic, requirementWords } from './words.ts';

/** The answer of a report: one sentence to read out, what stands second, and the spec line by line. */
export interface Answer {
  readonly meets: boolean;
  /** `Uncalibrated estimate, for planning a first trial:` or which trials stand behind it. */
  readonly opening: string;
  readonly sentence: string;
  /** Margins, range and the rate without margin. */
  readonly second: readonly string[];
  readonly spec: readonly SpecRow[];
}

export interface SpecRow {
  readonly asked: string;
  readonly unit: string;
  readonly got: string;
  readonly limit: string;
  readonly margin: string;
  readonly met: boolean;
  /** Middle 80 % over the coefficients' spread; empty where nothing is uncertain. */
  readonly range: string;
  readonly chance: string;
}

/** Puts a recommendation, or the settings of the file, into words. */
export function answerOf(recommendation: Recommendation, outcome: Outcome, what: 'sweep' | 'run'): Answer {
  const { scenario, meets, limit } = recommendation;
  const range = rangeView(scenario);
  const opening = openingOf(scenario);
  const spec = outcome.spec.map((result, k) => specRow(scenario.spec[k]!, result, range, k));
  if (outcome.status === 'choked') {
    const sentence = `${settingsText(scenario)}: the mill chokes, because ${outcome.message}.`;
    return { meets: false, opening, sentence, second: [], spec };
  }
  const verb = what === 'run' ? '' : meets ? 'run ' : '';
  const failing = meets ? '' : noneMeets(scenario, outcome, what);
  return {
    meets,
    opening,
    sentence: `${failing}${verb}${settingsText(scenario)}: ${resultsText(scenario, outcome, range)}${chanceText(scenario, range)}.`,
    second: [
      ...(meets ? [toleranceText(scenario)] : []),
      ...limitText(scenario, limit),
      ...rangeText(scenario, range),
    ].filter(Boolean),
    spec,
  };
}

/** How far the numbers can be trusted, first of all. */
export function openingOf({ calibration }: Scenario): string {
  if (!calibration) return 'Uncalibrated estimate, for planning a first trial:';
  const trials = calibration.trials;
  const names = Array.isArray(trials) ? trials.map((trial) => label(trialName(trial), 24)).join(', ') : '';
  return names ? `Calibrated on ${names}:` : 'Calibrated:';
}

function trialName(trial: unknown): string {
  return typeof trial === 'object' && trial !== null && 'name' in trial ? String(trial.name) : String(trial);
}

/** What a figure on its own says of where it comes from: the case, its settings, and how far the numbers can be trusted. */
export function sourceWords(scenario: Scenario, what: string): string {
  return `${label(what, 80)}: ${settingsText(scenario)}. ${trustWords(scenario)}`;
}

/** The opening of an answer as a sentence of its own. */
export function trustWords(scenario: Scenario): string {
  return openingOf(scenario).replace(/:$/, '.');
}

/** `the medium leaning wheel at 1500 rpm, rotor 5730 rpm, 300 kg/h`. */
export function settingsText(scenario: Scenario): string {
  const { settings } = toCase(scenario);
  const rpm = (speed: number) => formatQuantity(speed, 'rpm', 4);
  const feed = formatQuantity(settings.feedRate, 'kg/h', 3);
  return `the ${label(scenario.settings.wheel)} wheel at ${rpm(settings.wheelSpeed)}, rotor ${rpm(settings.rotorSpeed)}, ${feed}`;
}

function resultsText(
  { spec, machine }: Scenario,
  outcome: Outcome & { status: 'steady' },
  range: RangeView,
): string {
  const sizes = spec.flatMap((requirement, k) =>
    sizeText(requirement, outcome.spec[k]!.value, range.lines[k]!),
  );
  const fineness = sizes.length > 0 ? sizes : [`x95 ${formatNumber(outcome.product.x95_um as number, 3)} µm`];
  const power = `${formatNumber(outcome.rotor.power_kW!, 2)} of ${formatQuantity(machine.rotor.motor.power, 'kW', 3)}`;
  return [...fineness, power, `outlet ${formatNumber(outcome.air.outletTemperature_C!, 2)} °C`].join(', ');
}

/** After a fit, how probable it is that the whole spec is met. */
function chanceText({ calibration, spec }: Scenario, { worlds, meet }: RangeView): string {
  if (!calibration || spec.length === 0) return '';
  return `; the whole spec is met with a probability of ${Math.round((100 * meet) / worlds)} %`;
}

/** `96 % below 75 µm (asked 95 %, plausibly 73 to 99.8)` for lines about sizes. */
function sizeText(requirement: Requirement, value: number, line: RangeView['lines'][number]): string[] {
  const { left, right, shownIn } = requirement;
  if (left.kind !== 'quantity' || right.kind !== 'number' || requirementTopic(requirement) !== 'fineness')
    return [];
  const got = `${formatNumber(value, 3)} ${labelOf(shownIn)}`;
  const plausible = `plausibly ${formatNumber(line.low, 2)} to ${formatNumber(line.high, 3)}`;
  const asked = `(asked ${formatQuantity(right.value, shownIn, 3)}, ${plausible})`;
  if (left.argument === undefined) return [`${left.name} ${got} ${asked}`];
  const side = left.name === 'oversize' ? 'above' : 'below';
  return [`${got} ${side} ${formatQuantity(left.argument, 'um', 3)} ${asked}`];
}

function noneMeets(scenario: Scenario, outcome: Outcome, what: 'sweep' | 'run'): string {
  const k = worstLine(scenario);
  const result = outcome.spec[k]!;
  const unit = labelOf(scenario.spec[k]!.shownIn);
  const miss =
    `${requirementWords(scenario.spec[k]!)} fails by ${formatNumber(-result.margin, 2)} ${unit}`.trim();
  if (what === 'run') return `these settings do not meet the spec, ${miss}: `;
  return `no point of the sweep meets the whole spec. Nearest comes, where ${miss}: `;
}

/** The setting that may move least before the spec is lost, and what is lost first. */
function toleranceText(scenario: Scenario): string {
  const { rotorSpeed, wheelSpeed } = scenario.settings;
  const moves = [
    { name: 'Wheel speed', path: 'wheelSpeed', speed: wheelSpeed },
    { name: 'Rotor speed', path: 'rotorSpeed', speed: rotorSpeed },
  ].flatMap(({ name, path, speed }) =>
    [0.5, 1.5].map((share) => {
      const end = reachOf(scenario, { path, value: speed.value, as: speed.as }, speed.value * share);
      return { name, end, turn: end.value / speed.value - 1 };
    }),
  );
  const ended = moves.filter(({ end }) => end.by !== BY_RANGE);
  if (ended.length === 0) return 'Wheel and rotor speed may move by half without losing the spec.';
  const first = ended.reduce((a, b) => (Math.abs(b.turn) < Math.abs(a.turn) ? b : a));
  const way = first.turn < 0 ? 'fall' : 'rise';
  const percent = formatNumber(Math.abs(first.turn) * 100, Math.abs(first.turn) < 0.1 ? 1 : 2);
  return `${first.name} may ${way} ${percent} % before the spec is lost; ${endWords(scenario, first.end)} limits first.`;
}

function limitText(scenario: Scenario, limit: End | undefined): string[] {
  if (!limit) return [];
  const feed = formatQuantity(limit.value, 'kg/h', 3);
  if (limit.by === BY_RANGE) return [`${feed} is the most that was swept; the limit lies higher.`];
  return [
    `${formatNumber(IN_HAND * 100)} % is kept in hand: without it the limit is ${feed}, held by ${endWords(scenario, limit)}.`,
  ];
}

function rangeText({ calibration }: Scenario, { worlds, meet, choked }: RangeView): string[] {
  const of100 = (count: number) => Math.round((100 * count) / worlds);
  const chokes = choked > 0 ? `, and ${of100(choked)} of 100 choke` : '';
  const basis = calibration
    ? `The trials leave the coefficients uncertain: of ${worlds} draws from the calibration`
    : `Breakage, cut and sharpness are assumed: of ${worlds} plausible sets of them`;
  return [`${basis}, ${of100(meet)} in 100 meet the spec${chokes}.`];
}

function specRow(
  requirement: Requirement,
  result: Outcome['spec'][number],
  range: RangeView,
  k: number,
): SpecRow {
  const line = range.lines[k]!;
  const digits = (value: number) => formatNumber(value, 3);
  return {
    asked: requirementWords(requirement),
    unit: labelOf(requirement.shownIn),
    got: digits(result.value),
    limit: digits(result.limit),
    margin: digits(result.margin).replace('-', '−'),
    met: result.met,
    range: `${digits(line.low)} to ${digits(line.high)}`,
    chance: `${Math.round((100 * line.meet) / range.worlds)}`,
  };
}
