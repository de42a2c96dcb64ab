import { SAFETY_CAUTION } from '../../plant/safety/checklist.ts';
import type { SpecResult } from '../../scenario/outcome/spec-result.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber, formatQuantity, labelOf } from '../../scenario/units/display.ts';
import type { Chances } from '../../search/find/chance-climber.ts';
import type { Supported } from '../../search/find/chance-constrained.ts';
import type { FoundPoint } from '../../search/find/find.ts';
import { withSpread } from '../../trials/spread.ts';
import { KEPT } from '../kept-feed.ts';
import { goalIsFeed } from '../recommend.ts';
import { standingAt } from '../standing.ts';
import { textTable } from '../text-table.ts';
import { chokedText, missesText, openingOf } from '../verdict-words.ts';
import { requirementWords } from '../words.ts';
import type { FindAnswer } from './find-answer.ts';
import { goalInWords, goalValue, runAgain, settingInWords, settingsInWords } from './find-words.ts';

/** What `find` prints: the point to run first, the others beside it, what limits them, and how to see them. */
export function findText(answer: FindAnswer): string {
  const { scenario, space, nominal, robust, likeliest, named } = answer;
  const blocks = [
    ...(robust?.supported ? [supportedBlock(scenario, robust)] : []),
    ...(likeliest ? [firstBlock(answer)] : []),
    ...(robust && !robust.supported ? [[notSupported(robust)]] : []),
    ...(nominal.meets ? [nominalBlock(answer)] : [missBlock(answer)]),
  ];
  const lines = [scenario.title, '', ...blocks.flatMap((block) => [...block, ''])];
  if (nominal.byChoice.length > 1) lines.push(choiceTable(answer), '');
  lines.push(...space.taken.map((text) => `note: ${text}`));
  lines.push(...named.outcome.warnings.map(({ message }) => `note: ${message}`));
  return `${lines.join('\n')}\n${SAFETY_CAUTION}\n`;
}

/** The point to run first, and why. */
function firstBlock({ scenario, nominal, likeliest }: FindAnswer): string[] {
  const { point, chances } = likeliest!;
  const none = nominal.meets
    ? ''
    : scenario.calibration
      ? 'no settings within the ranges meet the whole spec; '
      : 'no settings within the ranges meet the whole spec if the coefficients are as assumed; ';
  const why = `the probability of meeting the whole spec is ${chanceText(chances)}`;
  return [
    `${openingOf(scenario)} ${none}run first ${settingsInWords(scenario, point)}: ${why}.`,
    ...(point.merit.violation > 0 ? [missLine(scenario, point)] : []),
    ...specTable(scenario, point, chances.lines),
    runAgain(point),
  ];
}

/** `31 % (± 2 percentage points); 4 % of the samples choke`. */
function chanceText({ whole, error, chokes }: Chances): string {
  const percent = (share: number) => `${formatNumber(100 * share, 2)} %`;
  return `${percent(whole)} (± ${formatNumber(100 * error, 1)} percentage points), and the mill chokes in ${percent(chokes)} of the samples of the coefficients`;
}

function nominalBlock({ scenario, nominal: { best }, capacity, likeliest }: FindAnswer): string[] {
  const basis = scenario.calibration
    ? openingOf(scenario)
    : likeliest
      ? 'If the coefficients are as assumed:'
      : openingOf(scenario);
  const met = scenario.spec.length > 0 ? ' meets the whole spec' : '';
  return [
    `${basis} ${settingsInWords(scenario, best)}${met}; ${goalInWords(scenario, best)}.`,
    limitsOf(best),
    ...keptLine(scenario, best),
    ...specTable(scenario, best),
    ...(capacity ? [capacityLine(scenario, capacity)] : []),
    runAgain(best),
  ];
}

function capacityLine(scenario: Scenario, capacity: FoundPoint): string {
  const most = formatQuantity(capacity.scenario.settings.feedRate, 'kg/h');
  return `Capacity at spec: ${most} (${settingsInWords(scenario, capacity)}).`;
}

/** A feed found by a limit has no margin: what keeps one. */
function keptLine(scenario: Scenario, best: FoundPoint): string[] {
  if (!goalIsFeed(scenario)) return [];
  const { feedRate } = best.scenario.settings;
  const kept = feedRate * (1 - KEPT);
  const least = scenario.spec.find(
    ({ left, right, relation }) =>
      left.kind === 'quantity' &&
      left.name === 'feedRate' &&
      right.kind === 'number' &&
      relation.startsWith('>') &&
      right.value > kept,
  );
  const most = formatQuantity(feedRate, 'kg/h', 3);
  if (least)
    return [
      `${most} is the limit itself; a ${100 * KEPT} % margin would break "${requirementWords(least)}".`,
    ];
  return [`${most} is the limit itself; ${formatQuantity(kept, 'kg/h', 2)} keeps a ${100 * KEPT} % margin.`];
}

function supportedBlock(scenario: Scenario, robust: Supported): string[] {
  const { best, confidence } = robust;
  const required = `${formatNumber(100 * confidence, 3)} %`;
  return [
    `Run first, for a probability of ${required}: ${settingsInWords(scenario, best)}; ${goalInWords(scenario, best)}.`,
    supportInWords(robust),
    ...specTable(scenario, best, robust.lines),
    runAgain(best),
  ];
}

function missBlock({ scenario, nominal: { best }, relaxed, likeliest }: FindAnswer): string[] {
  const same = likeliest && runAgain(likeliest.point) === runAgain(best);
  const miss = same
    ? []
    : [
        `The nearest miss if the coefficients are as they stand: ${settingsInWords(scenario, best)}.`,
        missLine(scenario, best),
        ...specTable(scenario, best),
        runAgain(best),
      ];
  return [...miss, ...relaxedText(scenario, relaxed)];
}

function missLine(scenario: Scenario, best: FoundPoint): string {
  const standing = standingAt(scenario, best.point);
  if (best.point.status === 'choked') return `There ${chokedText(standing)}.`;
  return `It misses ${missesText(scenario, standing)}.`;
}

function relaxedText(scenario: Scenario, relaxed: FindAnswer['relaxed']): string[] {
  if (relaxed.length === 0)
    return ['Relaxing one requirement is not enough: relax several, or widen the ranges.'];
  const rows = relaxed.map(({ line, point }) => [
    line.text,
    `${formatNumber(line.value)}${unitOf(scenario, line.text)}`,
    settingsInWords(scenario, point),
  ]);
  return ['Relaxing one requirement, all others met:', textTable([['required', 'reached', 'at'], ...rows])];
}

function limitsOf({ limits }: FoundPoint): string {
  return limits.length > 0 ? `Limited by ${limits.join('; ')}.` : 'Nothing limits it within the ranges.';
}

const SPREAD = 'with the spread of model, feed lot and analyser; not a guarantee';

function supportInWords({ confidence, probability, error, lines, best }: Supported): string {
  const required = `${formatNumber(100 * confidence, 3)} %`;
  const reached = `${formatNumber(100 * probability, 3)} ± ${formatNumber(100 * error, 2)} %`;
  const weakest = best.outcome.spec[lines.indexOf(Math.min(...lines))]!.text;
  return `Supported at ${required}, ${SPREAD} (the whole spec is met in ${reached} of the samples; least often ${weakest}).`;
}

function notSupported({ confidence, probability, error, calibrated }: Supported): string {
  const required = `${formatNumber(100 * confidence, 3)} %`;
  const reached = `${formatNumber(100 * probability, 3)} ± ${formatNumber(100 * error, 2)} %`;
  const advice = calibrated
    ? 'more trials (next) reduce the uncertainty'
    : 'the model is uncalibrated: trials and fit reduce the uncertainty';
  return `NOT supported at ${required}: no settings were found that meet the whole spec with this probability, at most in ${reached} of the samples; ${advice}.`;
}

function unitOf(scenario: Scenario, text: string): string {
  const shown = labelOf(scenario.spec.find((one) => one.text === text)?.shownIn ?? '1');
  return shown === '' ? '' : ` ${shown}`;
}

/** The spec, requirement by requirement; the probabilities are those given, else of the calibration. */
function specTable(scenario: Scenario, best: FoundPoint, lines?: readonly number[]): string[] {
  const results = lines ? best.outcome.spec : withSpread(best.scenario, best.outcome).spec;
  if (results.length === 0) return [];
  const chanceAt = (result: SpecResult, k: number) => lines?.[k] ?? result.probability;
  const probable = results.some((result, k) => chanceAt(result, k) !== null);
  const rows = results.map((result, k) => {
    const unit = unitOf(scenario, result.text);
    const chance = chanceAt(result, k);
    return [
      result.text,
      `${formatNumber(result.value)}${unit}`,
      `${formatNumber(result.margin)}${unit}`,
      result.met ? 'yes' : 'NO',
      ...(probable ? [chance === null ? '–' : `${formatNumber(100 * chance, 3)} %`] : []),
    ];
  });
  const head = ['required', 'got', 'margin', 'met', ...(probable ? ['probability'] : [])];
  return ['', textTable([head, ...rows]), ''];
}

const namesOf = ({ settings }: FoundPoint): string =>
  settings.flatMap(({ value }) => (typeof value === 'string' ? [value] : [])).join(', ');

const numbersOf = ({ settings }: FoundPoint): string =>
  settings
    .filter(({ value }) => typeof value === 'number')
    .map(settingInWords)
    .join(', ');

/** Every combination of choices: its best goal, and the probability where it is highest. */
function choiceTable({ scenario, nominal, robust, likeliest }: FindAnswer): string {
  const { goal } = scenario;
  const quick = robust?.byChoice.map(({ point, chance }) => ({ point, chance }));
  const likely = likeliest?.byChoice.map(({ point, chances }) => ({ point, chance: chances.whole })) ?? quick;
  const rows = nominal.byChoice.map((one) => {
    const own = likely?.find(({ point }) => namesOf(point) === namesOf(one));
    return [
      namesOf(one) || numbersOf(one),
      one.merit.violation === 0 ? 'yes' : 'no',
      goal ? goalValue(goal, one.goal) : formatNumber(one.merit.goal),
      numbersOf(one),
      ...(likely ? [own ? `${Math.round(100 * own.chance)} %` : '–', own ? numbersOf(own.point) : '–'] : []),
    ];
  });
  const head = ['choice', 'meets', goal ? 'goal' : 'least margin', 'at'];
  const table = textTable([[...head, ...(likely ? ['probability', 'at its highest'] : [])], ...rows]);
  return likely ? `${table}\n${PROBABILITY_NOTE}` : table;
}

const PROBABILITY_NOTE =
  'probability: of meeting the whole spec, from samples of the coefficients that the search has not seen';
