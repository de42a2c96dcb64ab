import {
  type FindAnswer,
  goalInWords,
  goalValue,
  settingInWords,
  settingsInWords,
  typedSetting,
} from '../answers/find-words.ts';
import { openingOf } from '../answers/verdict-words.ts';
import { SAFETY_CAUTION } from '../plant/safety/checklist.ts';
import type { SpecResult } from '../scenario/outcome/spec-result.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber, formatQuantity, labelOf } from '../scenario/units/display.ts';
import type { Supported } from '../search/find/chance-constrained.ts';
import type { FoundPoint } from '../search/find/find.ts';
import { withSpread } from '../trials/spread.ts';
import { textTable } from './text-table.ts';

/** What `find` prints: the answer asked first, the other beside it, what limits them, and how to see them. */
export function findText(answer: FindAnswer): string {
  const { scenario, space, nominal, robust } = answer;
  const blocks = nominal.meets
    ? [...(robust ? [robustBlock(scenario, robust)] : []), nominalBlock(answer)]
    : [missBlock(answer)];
  const first = (nominal.meets && robust ? robust : nominal).best;
  const lines = [scenario.title, '', ...blocks.flatMap((block) => [...block, ''])];
  if (nominal.byChoice.length > 1) lines.push(choiceTable(answer), '');
  lines.push(...space.taken.map((text) => `note: ${text}`));
  lines.push(...first.outcome.warnings.map(({ message }) => `note: ${message}`));
  return `${lines.join('\n')}\n${SAFETY_CAUTION}\n`;
}

function nominalBlock({ scenario, nominal: { best }, capacity }: FindAnswer): string[] {
  const basis = openingOf(scenario).replace(/:$/, '');
  return [
    `${basis}: ${settingsInWords(best)} meets the whole spec; ${goalInWords(scenario, best)}.`,
    limitsOf(best),
    ...specTable(scenario, best),
    ...(capacity
      ? [
          `Capacity at spec: ${formatQuantity(capacity.scenario.settings.feedRate, 'kg/h')} (${settingsInWords(capacity)}).`,
        ]
      : []),
    seenBy(best),
  ];
}

function robustBlock(scenario: Scenario, robust: Supported): string[] {
  const { best, confidence, supported } = robust;
  const chance = `${formatNumber(100 * confidence, 3)} %`;
  const what = supported
    ? `Robust answer, for a chance of ${chance}`
    : `No settings reach a chance of ${chance}; the likeliest found`;
  return [
    `${what}: ${settingsInWords(best)}; ${goalInWords(scenario, best)}.`,
    supportInWords(robust),
    ...specTable(scenario, best, robust.lines),
    seenBy(best),
  ];
}

function missBlock({ scenario, nominal: { best }, relaxed }: FindAnswer): string[] {
  const basis = openingOf(scenario).replace(/:$/, '');
  return [
    `${basis}: no settings within the ranges meet the whole spec. Nearest miss: ${settingsInWords(best)}.`,
    limitsOf(best),
    ...specTable(scenario, best),
    ...relaxedText(scenario, relaxed),
    seenBy(best),
  ];
}

function relaxedText(scenario: Scenario, relaxed: FindAnswer['relaxed']): string[] {
  if (relaxed.length === 0)
    return ['', 'No single line would save the rest by giving: more than one has to, or the ranges do.', ''];
  const rows = relaxed.map(({ line, point }) => [
    line.text,
    `${formatNumber(line.value)}${unitOf(scenario, line.text)}`,
    settingsInWords(point),
  ]);
  return [
    '',
    'What would have to give, one line alone, all others met:',
    textTable([['asked', 'reached', 'at'], ...rows]),
    '',
  ];
}

function limitsOf({ limits }: FoundPoint): string {
  return limits.length > 0 ? `Limited by ${limits.join('; ')}.` : 'Nothing limits it within the ranges.';
}

function seenBy({ settings }: FoundPoint): string {
  return `To see it: run FILE ${settings.map((setting) => `--set "${typedSetting(setting)}"`).join(' ')}`;
}

function supportInWords({
  supported,
  confidence,
  probability,
  error,
  lines,
  best,
  calibrated,
}: Supported): string {
  const asked = `${formatNumber(100 * confidence, 3)} %`;
  const reached = `${formatNumber(100 * probability, 3)} ± ${formatNumber(100 * error, 2)} %`;
  const weakest = best.outcome.spec[lines.indexOf(Math.min(...lines))]!.text;
  if (supported)
    return `Value supported at ${asked}, with model, feed-lot and analyser spread; not a guarantee (the whole spec is met in ${reached} of cases; weakest line ${weakest}).`;
  const advice = calibrated
    ? 'more trials (next) narrow the spread'
    : 'the model is uncalibrated: trials and fit narrow the spread';
  return `NOT supported at ${asked}: the whole spec is met in ${reached} of cases, with model, feed-lot and analyser spread; weakest line ${weakest}; ${advice}.`;
}

function unitOf(scenario: Scenario, text: string): string {
  const shown = labelOf(scenario.spec.find((one) => one.text === text)?.shownIn ?? '1');
  return shown === '' ? '' : ` ${shown}`;
}

/** The spec line by line; the chances are of the lines given, else of the calibration. */
function specTable(scenario: Scenario, best: FoundPoint, chances?: readonly number[]): string[] {
  const spec: readonly SpecResult[] = chances
    ? best.outcome.spec.map((line, i) => ({ ...line, probability: chances[i]! }))
    : withSpread(best.scenario, best.outcome).spec;
  if (spec.length === 0) return [];
  const chance = spec.some(({ probability }) => probability !== null);
  const rows = spec.map(({ text, value, margin, met, probability }) => [
    text,
    `${formatNumber(value)}${unitOf(scenario, text)}`,
    `${formatNumber(margin)}${unitOf(scenario, text)}`,
    met ? 'yes' : 'NO',
    ...(probability === null ? [] : [`${formatNumber(100 * probability, 3)} %`]),
  ]);
  return ['', textTable([['asked', 'got', 'margin', 'met', ...(chance ? ['chance'] : [])], ...rows]), ''];
}

function choiceTable({ scenario, nominal, robust }: FindAnswer): string {
  const { goal } = scenario;
  const names = ({ settings }: FoundPoint): string =>
    settings.flatMap(({ value }) => (typeof value === 'string' ? [value] : [])).join(', ');
  const numbers = ({ settings }: FoundPoint): string =>
    settings
      .filter(({ value }) => typeof value === 'number')
      .map(settingInWords)
      .join(', ');
  const rows = nominal.byChoice.map((one) => {
    const quick = robust?.byChoice.find(({ point }) => names(point) === names(one));
    return [
      names(one) || numbers(one),
      one.merit.violation === 0 ? 'yes' : 'no',
      goal ? goalValue(goal, one.goal) : formatNumber(one.merit.goal),
      numbers(one),
      ...(robust
        ? [quick ? `${Math.round(100 * quick.chance)} %` : '–', quick ? numbers(quick.point) : '–']
        : []),
    ];
  });
  const head = ['choice', 'meets', goal ? 'goal' : 'least margin', 'at'];
  const table = textTable([[...head, ...(robust ? ['chance, about', 'robust at'] : [])], ...rows]);
  return robust && robust.byChoice.length > 0 ? `${table}\n${chanceNote(robust.byChoice)}` : table;
}

function chanceNote(byChoice: Supported['byChoice']): string {
  const error = Math.max(...byChoice.map((one) => one.error));
  return `chance, about: of the whole spec after a quick look, over ${byChoice[0]!.worlds} worlds it has not seen, ± ${formatNumber(100 * error, 2)} points at most (one standard error)`;
}
