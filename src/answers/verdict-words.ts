import type { Requirement } from '../scenario/expression/expression.ts';
import type { Point } from '../scenario/outcome/solved.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber, formatQuantity, toShown } from '../scenario/units/display.ts';
import { type CalibrationStanding, calibrationStanding } from '../trials/calibration/calibration-standing.ts';
import { listed } from './join-words.ts';
import { chokingOf, type Odds, probabilityOf } from './odds.ts';
import { type Miss, missesOf, nearestOf, type Standing } from './standing.ts';
import { failureOf } from './verdict.ts';
import { requirementWords } from './words.ts';

/** How far the numbers can be trusted, first of all: what the calibration is of, whether it fits, and what was tried. */
export function openingOf(scenario: Scenario): string {
  const standing = calibrationStanding(scenario);
  return openingWith(scenario, standing, standing.sentences);
}

/** The opening of an answer that names settings of several kinds, none of them the file's: what holds at any of them. */
export function openingAnywhere(scenario: Scenario): string {
  const standing = calibrationStanding(scenario);
  return openingWith(scenario, standing, standing.general);
}

function openingWith(
  { calibration }: Scenario,
  { side, lackOfFit }: CalibrationStanding,
  sentences: readonly string[],
): string {
  return [...sentences, `${basisOf(calibration, side, lackOfFit)}:`].join(' ');
}

function basisOf(
  calibration: Scenario['calibration'],
  side: CalibrationStanding['side'],
  lackOfFit: boolean,
): string {
  if (!calibration || side === 'none') return 'Uncalibrated estimate, for planning a first trial';
  const names = trialNames(calibration.trials);
  const on = names.length > 0 ? ` on ${listed(names)}` : '';
  if (side !== 'whole') return `Calibrated in part (the ${side})${on}`;
  return lackOfFit ? `Calibrated${on}, without a good fit` : `Calibrated${on}`;
}

function trialNames(trials: unknown): string[] {
  if (!Array.isArray(trials)) return [];
  return trials.map((trial: unknown) => {
    const name = typeof trial === 'object' && trial !== null && 'name' in trial ? trial.name : trial;
    const text = String(name);
    return text.length > 24 ? `${text.slice(0, 23)}…` : text;
  });
}

/** `"95 % below 75 µm" by 6.5 percentage points`, worst first, all that fail. */
export function missesText({ spec }: Pick<Scenario, 'spec'>, standing: Standing): string {
  return listed(missesOf(standing).map((miss) => missText(spec, standing, miss)));
}

function missText(spec: readonly Requirement[], standing: Standing, miss: Miss): string {
  const { text, by, unit } = failureOf(spec, standing, miss);
  const name = miss.kind === 'machine' ? `the ${text}` : quoted(spec[miss.place]!);
  if (by === null) return `${name}, which has no value here`;
  return `${name} by ${amountText(by, unit)}`;
}

function quoted(requirement: Requirement): string {
  return `"${requirementWords(requirement)}"`;
}

/** A difference with its unit; of percentages it is percentage points. */
export function amountText(by: number, unit: string): string {
  const number = formatNumber(by, 2);
  if (unit === '%') return `${number} percentage point${number === '1' ? '' : 's'}`;
  return unit === '' ? number : `${number} ${unit}`;
}

/** `"motor load at most 90 %" is nearest its limit (relative margin 14 %)`. */
export function nearestText({ spec }: Pick<Scenario, 'spec'>, standing: Standing): string {
  const place = nearestOf(standing);
  const margin = standing.relative[place]!;
  return `${quoted(spec[place]!)} is nearest its limit (relative margin ${formatNumber(100 * margin, 2)} %)`;
}

/** What a point that chokes says: why, and up to which feed it would run. */
export function chokedText({ point }: Pick<Standing, 'point'>): string {
  if (point.status !== 'choked') return '';
  const { message, feedAtChoke } = point.state;
  return `the mill chokes (${message}); ${feedThatRuns(feedAtChoke)}`;
}

/** `at these settings it runs up to about 830 kg/h`; [kg/s]. */
export function feedThatRuns(feedAtChoke: number): string {
  return feedAtChoke > 0
    ? `at these settings it runs up to about ${formatQuantity(feedAtChoke, 'kg/h', 3)}`
    : 'at these settings it runs at no feed rate';
}

/** Keys of `--json` where a point chokes. */
export function chokedKeys({ state }: Extract<Point, { status: 'choked' }>) {
  const { reason, message, feedAtChoke } = state;
  return { status: 'choked', reason, message, feedAtChoke_kg_per_h: toShown(feedAtChoke, 'kg/h') };
}

/** The verdict on a point as a page says it beside the settings; empty where nothing is required of a mill that runs. */
export function pointVerdict(scenario: Pick<Scenario, 'spec'>, standing: Standing): string {
  if (standing.point.status === 'choked') return chokedText(standing);
  if (scenario.spec.length === 0) return '';
  return standing.meets
    ? `it meets the whole spec, and ${nearestText(scenario, standing)}`
    : `it misses ${missesText(scenario, standing)}`;
}

/** `of 200 samples of the coefficients 28 % meet the whole spec and 3 % choke`. */
export function oddsText({ calibration }: Pick<Scenario, 'calibration'>, odds: Odds): string {
  const percent = (share: number) => `${Math.round(100 * share)} %`;
  const chokes = `${percent(chokingOf(odds))} choke`;
  const sets = calibration ? 'samples from the calibration' : 'plausible coefficient sets';
  return `of ${odds.samples} ${sets} ${percent(probabilityOf(odds))} meet the whole spec and ${chokes}`;
}
