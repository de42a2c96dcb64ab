import { SAFETY_CAUTION } from '../../plant/safety/checklist.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber, formatQuantity } from '../../scenario/units/display.ts';
import type { Chances } from '../../search/find/chance-climber.ts';
import type { Supported } from '../../search/find/chance-constrained.ts';
import type { FoundPoint } from '../../search/find/find.ts';
import { calibrationStanding } from '../../trials/calibration/calibration-standing.ts';
import type { AnswerDocument, AnswerTable, Section } from '../document.ts';
import { KEPT } from '../kept-feed.ts';
import { tieWords } from '../report-answer.ts';
import { standingAt } from '../standing.ts';
import { goalIsFeed } from '../sweep-candidates.ts';
import { sentence } from '../text.ts';
import { chokedText, missesText, openingOf } from '../verdict-words.ts';
import { requirementWords } from '../words.ts';
import type { FindAnswer } from './find-answer.ts';
import { findKeys } from './find-keys.ts';
import { choiceFigure, choiceTable, marginFigure, relaxedTable, specTable } from './find-tables.ts';
import { goalInWords, runAgain, settingsInWords } from './find-words.ts';

/** A part of the answer: what it says, its tables, and how the point is seen again. */
interface Part {
  readonly id: string;
  readonly heading: string;
  readonly sentences: readonly string[];
  readonly tables?: readonly AnswerTable[];
  readonly listing?: string;
}

/** The answer of `find`: the point to run first, the others beside it, what limits them, and how to see them. */
export function findDocument(answer: FindAnswer, found: boolean): AnswerDocument {
  const { scenario, space, nominal, robust, likeliest, named } = answer;
  const parts = [
    ...(robust?.supported ? [supportedPart(scenario, robust)] : []),
    ...(likeliest ? [firstPart(answer)] : []),
    ...(robust && !robust.supported ? [notSupportedPart(robust)] : []),
    nominal.meets ? nominalPart(answer) : missPart(answer),
  ];
  const [first, ...more] = parts;
  const own: Section = {
    id: 'settings',
    heading: 'The settings named',
    figures: marginFigure(answer),
    ...(first!.tables ? { tables: first!.tables } : {}),
    ...(first!.listing ? { listing: first!.listing } : {}),
  };
  const choices: Section[] =
    nominal.byChoice.length > 1
      ? [
          {
            id: 'choices',
            heading: 'Every choice',
            figures: choiceFigure(answer),
            tables: [choiceTable(answer)],
          },
        ]
      : [];
  return {
    command: 'find',
    found,
    title: scenario.title,
    job: scenario.job,
    opening: openingOf(named.scenario),
    answer: first!.sentences,
    sections: [own, ...more.map(begun), ...choices],
    notes: [...space.taken, ...named.outcome.warnings.map(({ message }) => message)],
    cautions: [SAFETY_CAUTION],
    keys: findKeys(answer),
  };
}

/** The point to run first, and why. */
function firstPart({ scenario, nominal, likeliest }: FindAnswer): Part {
  const { point, chances } = likeliest!;
  const none = nominal.meets
    ? ''
    : scenario.calibration
      ? 'no settings within the ranges meet the whole spec; '
      : 'no settings within the ranges meet the whole spec if the coefficients are as assumed; ';
  const why = `the probability of meeting the whole spec is ${chanceText(chances)}`;
  const hopeless = !nominal.meets && chances.whole === 0;
  const there = settingsInWords(scenario, point);
  return {
    id: 'first',
    heading: hopeless ? 'The nearest miss' : 'Run first',
    sentences: [
      hopeless
        ? `${none.replace(/; $/, ', ')}and none do in any sample of the coefficients: there is nothing to run for this spec. The nearest miss is ${there}.`
        : `${none}run first ${there}: ${why}.`,
      ...(likeliest!.tie ? [tieWords(scenario, likeliest!.tie, 'order')] : []),
      ...(point.merit.violation > 0 ? [missLine(scenario, point)] : []),
    ],
    tables: specTable(scenario, point, chances.lines),
    listing: runAgain(point),
  };
}

/** `31 % (± 2 percentage points); 4 % of the samples choke`. */
function chanceText({ whole, error, chokes }: Chances): string {
  const percent = (share: number) => `${formatNumber(100 * share, 2)} %`;
  return `${percent(whole)} (± ${formatNumber(100 * error, 1)} percentage points), and the mill chokes in ${percent(chokes)} of the samples of the coefficients`;
}

/** A part that does not go on from the opening of the answer. */
function begun(part: Part): Part {
  const [first, ...more] = part.sentences;
  return { ...part, sentences: first === undefined ? [] : [sentence(first), ...more] };
}

/** How far the calibration holds at a point named beside the first: what the opening of the answer does not say of that one. */
function standingThere(point: FoundPoint, { named }: FindAnswer): string[] {
  const said = calibrationStanding(named.scenario).sentences;
  return calibrationStanding(point.scenario).sentences.filter((each) => !said.includes(each));
}

function nominalPart(answer: FindAnswer): Part {
  const { scenario, nominal, capacity, likeliest } = answer;
  const { best } = nominal;
  const basis = likeliest && !scenario.calibration ? 'If the coefficients are as assumed: ' : '';
  const met = scenario.spec.length > 0 ? ' meets the whole spec' : '';
  return {
    id: 'nominal',
    heading: 'With the present coefficients',
    sentences: [
      `${basis}${settingsInWords(scenario, best)}${met}; ${goalInWords(scenario, best)}.`,
      ...standingThere(best, answer),
      limitsOf(best),
      ...keptLine(scenario, best),
      ...(capacity ? [capacityLine(scenario, capacity)] : []),
    ],
    tables: specTable(scenario, best),
    listing: runAgain(best),
  };
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

function supportedPart(scenario: Scenario, robust: Supported): Part {
  const { best, confidence } = robust;
  const required = `${formatNumber(100 * confidence, 3)} %`;
  return {
    id: 'supported',
    heading: `At a probability of ${required}`,
    sentences: [
      `run first, for a probability of ${required}: ${settingsInWords(scenario, best)}; ${goalInWords(scenario, best)}.`,
      supportInWords(robust),
    ],
    tables: specTable(scenario, best, robust.lines),
    listing: runAgain(best),
  };
}

function missPart(answer: FindAnswer): Part {
  const { scenario, nominal, relaxed, likeliest } = answer;
  const { best } = nominal;
  const { sentences, tables = [] } = relaxedPart(scenario, relaxed);
  const head = { id: 'nearest', heading: 'What misses, and which requirement to relax' };
  if (likeliest && runAgain(likeliest.point) === runAgain(best)) return { ...head, sentences, tables };
  return {
    ...head,
    sentences: [
      `the nearest miss with the present coefficients is ${settingsInWords(scenario, best)}.`,
      ...standingThere(best, answer),
      missLine(scenario, best),
      ...sentences,
    ],
    tables: [...tables, ...specTable(scenario, best)],
    listing: runAgain(best),
  };
}

function missLine(scenario: Scenario, best: FoundPoint): string {
  const standing = standingAt(scenario, best.point);
  if (best.point.status === 'choked') return `There ${chokedText(standing)}.`;
  return `It misses ${missesText(scenario, standing)}.`;
}

function relaxedPart(scenario: Scenario, relaxed: FindAnswer['relaxed']): Pick<Part, 'sentences' | 'tables'> {
  if (relaxed.length === 0)
    return { sentences: ['Relaxing one requirement is not enough: relax several, or widen the ranges.'] };
  return {
    sentences: ['Relaxing one requirement, all others met:'],
    tables: [relaxedTable(scenario, relaxed)],
  };
}

function limitsOf({ limits }: FoundPoint): string {
  return limits.length > 0 ? `Limited by ${limits.join('; ')}.` : 'Nothing limits it within the ranges.';
}

const SPREAD = 'including the uncertainty of model, feed lot and analyser; not a guarantee';

function supportInWords({ confidence, probability, error, lines, best }: Supported): string {
  const required = `${formatNumber(100 * confidence, 3)} %`;
  const reached = `${formatNumber(100 * probability, 3)} ± ${formatNumber(100 * error, 2)} %`;
  const weakest = best.scenario.spec[lines.indexOf(Math.min(...lines))]!;
  return `Supported at ${required}, ${SPREAD} (the whole spec is met in ${reached} of the samples; least often "${requirementWords(weakest)}").`;
}

function notSupportedPart({ confidence, probability, error, calibrated }: Supported): Part {
  const required = `${formatNumber(100 * confidence, 3)} %`;
  const reached = `${formatNumber(100 * probability, 3)} ± ${formatNumber(100 * error, 2)} %`;
  const advice = calibrated
    ? 'more trials (next) reduce the uncertainty'
    : 'the model is uncalibrated: trials and fit reduce the uncertainty';
  const words = `NOT supported at ${required}: no settings were found that meet the whole spec with this probability, at most in ${reached} of the samples; ${advice}.`;
  return { id: 'not-supported', heading: `At a probability of ${required}`, sentences: [words] };
}
