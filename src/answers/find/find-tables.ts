import type { SpecResult } from '../../scenario/outcome/spec-result.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber, labelOf, toShown } from '../../scenario/units/display.ts';
import type { FoundPoint } from '../../search/find/find.ts';
import { withSpread } from '../../trials/spread.ts';
import { type AnswerTable, columns, type FigureReference } from '../document.ts';
import type { DotsInput } from '../dots.ts';
import { standingAt } from '../standing.ts';
import { requirementWords } from '../words.ts';
import type { FindAnswer } from './find-answer.ts';
import { goalUnit, goalValue, settingInWords, settingsInWords } from './find-words.ts';

/** The spec, requirement by requirement; the probabilities are those given, else of the calibration. */
export function specTable(scenario: Scenario, best: FoundPoint, lines?: readonly number[]): AnswerTable[] {
  const results = lines ? best.outcome.spec : withSpread(best.scenario, best.outcome).spec;
  if (results.length === 0) return [];
  const chanceAt = (result: SpecResult, k: number) => lines?.[k] ?? result.probability;
  const probable = results.some((result, k) => chanceAt(result, k) !== null);
  const rows = results.map((result, k) => {
    const unit = unitOf(scenario, result.text);
    const shown = (value: number) => (Number.isFinite(value) ? `${formatNumber(value)}${unit}` : '–');
    const chance = chanceAt(result, k);
    return [
      result.text,
      { text: shown(result.value), fails: !result.met },
      shown(result.margin),
      result.met ? 'yes' : 'NO',
      ...(probable ? [chance === null ? '–' : `${formatNumber(100 * chance, 3)} %`] : []),
    ];
  });
  return [
    { columns: columns('required', 'value', 'margin', 'met', ...(probable ? ['probability'] : [])), rows },
  ];
}

/** What each requirement reaches where it alone is relaxed. */
export function relaxedTable(scenario: Scenario, relaxed: FindAnswer['relaxed']): AnswerTable {
  return {
    columns: columns('required', 'reached', 'at'),
    rows: relaxed.map(({ line, point }) => [
      line.text,
      `${formatNumber(line.value)}${unitOf(scenario, line.text)}`,
      settingsInWords(scenario, point),
    ]),
  };
}

function unitOf(scenario: Scenario, text: string): string {
  const shown = labelOf(scenario.spec.find((one) => one.text === text)?.shownIn ?? '1');
  return shown === '' ? '' : ` ${shown}`;
}

/** A combination of choices with its best point, and the probability where it is highest. */
interface Choice {
  readonly name: string;
  readonly best: FoundPoint;
  readonly likeliest?: { readonly point: FoundPoint; readonly chance: number };
}

function choicesOf({ nominal, robust, likeliest }: FindAnswer): Choice[] {
  const quick = robust?.byChoice.map(({ point, chance }) => ({ point, chance }));
  const likely = likeliest?.byChoice.map(({ point, chances }) => ({ point, chance: chances.whole })) ?? quick;
  return nominal.byChoice.map((best) => {
    const own = likely?.find(({ point }) => namesOf(point) === namesOf(best));
    return { name: namesOf(best) || numbersOf(best), best, ...(own ? { likeliest: own } : {}) };
  });
}

function namesOf({ settings }: FoundPoint): string {
  return settings.flatMap(({ value }) => (typeof value === 'string' ? [value] : [])).join(', ');
}

function numbersOf({ settings }: FoundPoint): string {
  return settings
    .filter(({ value }) => typeof value === 'number')
    .map(settingInWords)
    .join(', ');
}

const PROBABILITY_NOTE =
  'probability: of meeting the whole spec, from samples of the coefficients not used in the search';

/** Every combination of choices: its best goal, and the probability where it is highest. */
export function choiceTable(answer: FindAnswer): AnswerTable {
  const { goal } = answer.scenario;
  const choices = choicesOf(answer);
  const likely = choices.some(({ likeliest }) => likeliest !== undefined);
  const rows = choices.map(({ name, best, likeliest }) => [
    name,
    best.merit.violation === 0 ? 'yes' : 'no',
    goal ? goalValue(goal, best.goal) : formatNumber(best.merit.goal),
    numbersOf(best),
    ...(likely
      ? [
          likeliest ? `${Math.round(100 * likeliest.chance)} %` : '–',
          likeliest ? numbersOf(likeliest.point) : '–',
        ]
      : []),
  ]);
  return {
    columns: columns(
      'choice',
      'meets',
      goal ? 'goal' : 'least margin',
      'at',
      ...(likely ? ['probability', 'at its highest'] : []),
    ),
    rows,
    ...(likely ? { notes: [PROBABILITY_NOTE] } : {}),
  };
}

/** The choices against each other: the goal where the spec is met, and the probability. */
export function choiceFigure(answer: FindAnswer): FigureReference[] {
  const { goal } = answer.scenario;
  const choices = choicesOf(answer);
  if (!goal || choices.length < 2) return [];
  const unit = goalUnit(goal);
  const likely = choices.some(({ likeliest }) => likeliest !== undefined);
  const data: DotsInput = {
    rows: choices.map(({ name }) => name),
    panels: [
      {
        measure: { name: goal.text, unit: labelOf(unit) },
        dots: choices.map(({ best }) =>
          best.merit.violation === 0 ? { value: toShown(best.goal, unit) } : undefined,
        ),
        fromZero: true,
      },
      ...(likely
        ? [
            {
              measure: { name: 'probability of the whole spec', unit: '%' },
              dots: choices.map(({ likeliest }) =>
                likeliest ? { value: 100 * likeliest.chance } : undefined,
              ),
              fromZero: true,
            },
          ]
        : []),
    ],
    caption: likely
      ? 'Left: what each choice reaches if the coefficients are as assumed, none where it misses the spec. Right: the highest probability of meeting the whole spec with it.'
      : 'What each choice reaches; none where it misses the spec.',
  };
  return [{ id: 'choices-figure', title: 'The choices against each other', figure: 'dots', data }];
}

/** How far each requirement is from its limit at the point named. */
export function marginFigure({ named }: FindAnswer): FigureReference[] {
  const { spec } = named.scenario;
  if (spec.length === 0 || named.point.status === 'choked') return [];
  const { relative } = standingAt(named.scenario, named.point);
  const rows = spec.map((requirement, k) => ({ name: requirementWords(requirement), margin: relative[k] }));
  const known = rows.filter(({ margin }) => margin !== undefined && Number.isFinite(margin));
  if (known.length === 0) return [];
  const data: DotsInput = {
    rows: known.map(({ name }) => name),
    panels: [
      {
        measure: { name: 'relative margin', unit: '%' },
        dots: known.map(({ margin }) => ({ value: 100 * margin! })),
        limit: { at: 0, words: 'the limit' },
      },
    ],
    caption:
      'How far each requirement is from its limit at the settings named first: right of the line it is met.',
  };
  return [{ id: 'margins', title: 'Margin of each requirement', figure: 'dots', data }];
}
