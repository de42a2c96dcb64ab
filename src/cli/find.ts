import { SAFETY_CAUTION } from '../plant/checklist.ts';
import { InputError } from '../scenario/errors.ts';
import { loadScenario } from '../scenario/load.ts';
import { quantityNamed } from '../scenario/outcome/quantities.ts';
import type { SpecResult } from '../scenario/outcome/spec.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber, formatQuantity, labelOf, toShown } from '../scenario/units/display.ts';
import { parseValue } from '../scenario/units/parse.ts';
import { isProblem } from '../scenario/units/problem.ts';
import { capacityOf } from '../search/find/capacity.ts';
import { findSupported, type Supported } from '../search/find/confident.ts';
import { type Found, type FoundPoint, type FoundSetting, findSettings } from '../search/find/find.ts';
import { type SearchSpace, searchSpace } from '../search/find/space.ts';
import { withSpread } from '../trials/spread.ts';
import { type Command, EXIT } from './command.ts';
import { refuseOutside, SEED } from './number-option.ts';
import { settable } from './settable.ts';
import { textTable } from './text-table.ts';

/** `find FILE`: settings that meet the spec best. */
export const find: Command = {
  usage: 'find <file>',
  summary: 'settings that meet the spec and serve the goal best, what limits them, how far the margin is',
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('json', { type: 'boolean', default: false, describe: 'print the result as JSON' })
      .option('seed', { type: 'number', default: 1, describe: 'seed of the search' })
      .option('confidence', {
        type: 'string',
        describe: 'chance with which the whole spec shall be met, e.g. "95 %"',
      })
      .option('set', settable('change a value, e.g. --set air.flow="1600 m^3/h" (repeatable)')),
  run: async (options) => {
    refuseOutside(options, { seed: SEED });
    const scenario = await loadScenario(String(options.file), { set: options.set as string[] });
    if (scenario.spec.length === 0 && !scenario.goal)
      throw new InputError([{ place: 'spec', message: 'find needs a spec or a goal in the scenario' }]);
    const space = searchSpace(scenario);
    if (typeof space === 'string') throw new InputError([{ place: 'sweep.factors', message: space }]);
    const seed = Number(options.seed);
    const support =
      options.confidence === undefined
        ? undefined
        : findSupported(scenario, space, confidenceOf(String(options.confidence)), seed);
    const found = support?.found ?? findSettings(scenario, space, { seed });
    const capacity = found.meets && !support ? capacityOf(scenario, space, found, seed) : undefined;
    process.stdout.write(
      options.json ? asJson(found, capacity, support) : asText(scenario, space, found, capacity, support),
    );
    return (support ? support.supported : found.meets) ? EXIT.done : EXIT.noAnswer;
  },
};

function confidenceOf(text: string): number {
  const value = parseValue(/^[\d.]+$/.test(text) ? `${text} %` : text, { unit: '1', shownIn: '%' });
  if (isProblem(value)) throw new InputError([{ place: '--confidence', message: value.problem }]);
  if (value.value >= 0.5 && value.value <= 0.995) return value.value;
  throw new InputError([{ place: '--confidence', message: `must be between 50 % and 99.5 %, is ${text}` }]);
}

/** A setting as it is typed after `--set`. */
function typed({ path, value, shownIn }: FoundSetting): string {
  if (typeof value === 'string') return `${path}=${value}`;
  const number = Number(toShown(value, shownIn).toPrecision(9));
  return `${path}=${number}${shownIn === '1' ? '' : ` ${shownIn}`}`;
}

function inWords({ path, value, shownIn }: FoundSetting): string {
  return typeof value === 'string' ? `${path} ${value}` : `${path} ${formatQuantity(value, shownIn, 7)}`;
}

function asText(
  scenario: Scenario,
  space: SearchSpace,
  found: Found,
  capacity: FoundPoint | undefined,
  support: Supported | undefined,
): string {
  const { best } = found;
  const settings = best.settings.map(inWords).join(', ');
  const basis = scenario.calibration ? 'With the calibrated model' : 'Uncalibrated estimate';
  const lines = [scenario.title, ''];
  if (found.meets) lines.push(`${basis}: ${settings} meets the whole spec${goalInWords(scenario, best)}.`);
  else lines.push(`${basis}: no settings within the ranges meet the whole spec. Nearest miss: ${settings}.`);
  if (support) lines.push(supportInWords(support));
  lines.push(
    best.limits.length > 0 ? `Limited by ${best.limits.join('; ')}.` : 'Nothing limits it within the ranges.',
    '',
  );
  lines.push(specTable(scenario, withSpread(best.scenario, best.outcome).spec), '');
  if (capacity) {
    const rate = capacity.scenario.settings.feedRate;
    lines.push(
      `Capacity at spec: ${formatQuantity(rate, 'kg/h')} (${capacity.settings.map(inWords).join(', ')}).`,
    );
  }
  if (found.byChoice.length > 1) lines.push('', choiceTable(scenario, found), '');
  lines.push(...space.taken.map((text) => `note: ${text}`));
  lines.push(...best.outcome.warnings.map(({ message }) => `note: ${message}`));
  lines.push(`To see it: run FILE ${best.settings.map((setting) => `--set "${typed(setting)}"`).join(' ')}`);
  return `${lines.join('\n')}\n${SAFETY_CAUTION}\n`;
}

function supportInWords({
  supported,
  confidence,
  probability,
  error,
  lines,
  found,
  calibrated,
}: Supported): string {
  const asked = `${formatNumber(100 * confidence, 3)} %`;
  const reached = `${formatNumber(100 * probability, 3)} ± ${formatNumber(100 * error, 2)} %`;
  const weakest = lines.indexOf(Math.min(...lines));
  const line = lines.length > 0 ? `; weakest line ${found.best.outcome.spec[weakest]!.text}` : '';
  if (supported)
    return `Value supported at ${asked}, with model, feed-lot and analyser spread; not a guarantee (the whole spec is met in ${reached} of cases${line}).`;
  const advice = calibrated
    ? 'more trials (next) narrow the spread'
    : 'the model is uncalibrated: trials and fit narrow the spread';
  return `NOT supported at ${asked}: the whole spec is met in ${reached} of cases, with model, feed-lot and analyser spread${line}; ${advice}.`;
}

function goalInWords({ goal }: Scenario, { goal: value }: FoundPoint): string {
  if (!goal) return ', with its smallest margin as large as it can be';
  return `; ${goal.text}: ${formatQuantity(value, goalUnit(goal))}`;
}

/** Unit a goal is shown in; a goal that computes is shown in SI, as a bare number. */
function goalUnit({ expression }: NonNullable<Scenario['goal']>): string {
  return expression.kind === 'quantity' ? quantityNamed(expression.name)!.shownIn : '1';
}

function specTable(scenario: Scenario, spec: readonly SpecResult[]): string {
  const unit = (text: string): string => {
    const shown = labelOf(scenario.spec.find((one) => one.text === text)?.shownIn ?? '1');
    return shown === '' ? '' : ` ${shown}`;
  };
  const rows = spec.map(({ text, value, margin, met, probability }) => [
    text,
    `${formatNumber(value)}${unit(text)}`,
    `${formatNumber(margin)}${unit(text)}`,
    met ? 'yes' : 'NO',
    ...(probability === null ? [] : [`${formatNumber(100 * probability, 3)} %`]),
  ]);
  return textTable([['asked', 'got', 'margin', 'met', ...(scenario.calibration ? ['chance'] : [])], ...rows]);
}

function choiceTable({ goal }: Scenario, { byChoice }: Found): string {
  const rows = byChoice.map((one) => [
    one.settings
      .filter(({ value }) => typeof value === 'string')
      .map(({ value }) => value)
      .join(', '),
    one.merit.violation === 0 ? 'yes' : 'no',
    goal ? formatQuantity(one.goal, goalUnit(goal)) : formatNumber(one.merit.goal),
    one.settings
      .filter(({ value }) => typeof value === 'number')
      .map(inWords)
      .join(', '),
  ]);
  return textTable([['choice', 'meets', goal ? 'goal' : 'least margin', 'at'], ...rows]);
}

function asJson(found: Found, capacity: FoundPoint | undefined, support: Supported | undefined): string {
  const point = (one: FoundPoint) => ({
    settings: Object.fromEntries(one.settings.map((setting) => [setting.path, settingJson(setting)])),
    set: one.settings.map(typed),
    goal: one.goal,
    meets: one.merit.violation === 0,
    limits: one.limits,
    spec: one.outcome.spec,
  });
  const body = {
    meets: found.meets,
    best: { ...point(found.best), outcome: withSpread(found.best.scenario, found.best.outcome) },
    capacityAtSpec: capacity
      ? { feedRate_kg_per_h: toShown(capacity.scenario.settings.feedRate, 'kg/h'), ...point(capacity) }
      : null,
    byChoice: found.byChoice.map(point),
    support: support
      ? {
          supported: support.supported,
          confidence: support.confidence,
          probability: support.probability,
          standardError: support.error,
          lines: support.lines,
          calibrated: support.calibrated,
          meaning: 'with model, feed-lot and analyser spread; not a guarantee',
        }
      : null,
    evaluations: found.evaluations,
  };
  return `${JSON.stringify(body, null, 2)}\n`;
}

function settingJson({ value, shownIn }: FoundSetting): unknown {
  return typeof value === 'string' ? value : { value: toShown(value, shownIn), unit: shownIn };
}
