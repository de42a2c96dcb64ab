import type { Requirement } from '../scenario/expression/expression.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber, formatQuantity, labelOf, toShown } from '../scenario/units/display.ts';
import type { LoggedTrial } from '../trials/log/logged.ts';
import type { AnswerTable, Cell } from './document.ts';
import { listed } from './join-words.ts';
import { type MeasuredLineOfSpec, type MeasuredStanding, measuredSpec } from './measured-spec.ts';
import { label } from './text.ts';
import { requirementWords } from './words.ts';

/** Longest name of a run. */
const LONGEST_NAME = 24;

/** A run held against the spec by what was measured. */
export interface MeasuredRun {
  readonly name: string;
  readonly trial: LoggedTrial;
  /** In the order of the spec. */
  readonly lines: readonly MeasuredLineOfSpec[];
  /** Of the whole spec: the worst of its lines; `not measured` where all that was measured is met. */
  readonly standing: MeasuredStanding;
}

/** Worst first. */
const RANK: readonly MeasuredStanding[] = ['missed', 'not resolved', 'not measured', 'met'];

/** Every run of a log against the spec. */
export function measuredRuns({ spec }: Scenario, trials: readonly LoggedTrial[]): MeasuredRun[] {
  return trials.map((trial) => {
    const lines = spec.map((requirement) => measuredSpec(requirement, trial));
    const standing = RANK.find((each) => lines.some((line) => line.standing === each)) ?? 'met';
    return { name: label(trial.name, LONGEST_NAME), trial, lines, standing };
  });
}

/** What the measurements say of the spec, before what the model says; nothing without a spec or runs. */
export function measuredSentences({ spec }: Scenario, runs: readonly MeasuredRun[]): string[] {
  if (spec.length === 0 || runs.length === 0) return [];
  return [metSentence(spec, runs), ...openSentences(spec, runs), ...missedSentences(spec, runs)];
}

/** `By measurement, run E4 met the whole spec.` */
function metSentence(spec: readonly Requirement[], runs: readonly MeasuredRun[]): string {
  const met = runs.filter(({ standing }) => standing === 'met');
  const known = runs.filter(
    ({ standing, lines }) =>
      standing === 'not measured' && lines.some((line) => line.standing !== 'not measured'),
  );
  const whole = met.length > 0 ? [`${runsText(met)} met the whole spec`] : [];
  if (known.length === 0)
    return met.length > 0 ? `By measurement, ${whole}.` : 'By measurement, no run met the spec.';
  const open = spec.filter((_, k) => known.some(({ lines }) => lines[k]!.standing === 'not measured'));
  const was = open.length === 1 ? 'was' : 'were';
  const partly = `${runsText(known)} met every requirement that was measured (${listed(open.map((line) => requirementWords(line)))} ${was} not measured)`;
  return `By measurement, ${[...whole, partly].join('; ')}.`;
}

/** `Run E2 is not resolved: 19.9 µm against x50 at least 20 µm is within the measuring error (± 1.2 µm).` */
function openSentences(spec: readonly Requirement[], runs: readonly MeasuredRun[]): string[] {
  return runs
    .filter(({ standing }) => standing === 'not resolved')
    .map(({ name, lines }) => {
      const open = lines.flatMap((line, k) =>
        line.standing === 'not resolved'
          ? [
              `${valueText(spec[k]!, line)} against ${requirementWords(spec[k]!)} (± ${errorText(spec[k]!, line)})`,
            ]
          : [],
      );
      const [is, error] =
        open.length === 1 ? ['is', 'the measuring error'] : ['are', 'their measuring errors'];
      return `Run ${name} is not resolved: ${listed(open)} ${is} within ${error}.`;
    });
}

/** `95 % below 75 µm was missed by runs E1, E3 and E5.` */
function missedSentences(spec: readonly Requirement[], runs: readonly MeasuredRun[]): string[] {
  const missed = spec.flatMap((requirement, k) => {
    const by = runs.filter(({ lines }) => lines[k]!.standing === 'missed');
    return by.length > 0 ? [`${requirementWords(requirement)} by ${runsText(by)}`] : [];
  });
  return missed.length > 0 ? [`Missed: ${missed.join('; ')}.`] : [];
}

function runsText(runs: readonly MeasuredRun[]): string {
  return `${runs.length === 1 ? 'run' : 'runs'} ${listed(runs.map(({ name }) => name))}`;
}

/** A measured value with its unit. */
export function valueText({ shownIn }: Requirement, { value }: MeasuredLineOfSpec): string {
  return formatQuantity(value, shownIn, 3);
}

/** An error in the unit of its requirement: the difference of two readings, so that no zero of a scale enters. */
function errorText({ shownIn }: Requirement, { error }: MeasuredLineOfSpec): string {
  const shown = toShown(error, shownIn) - toShown(0, shownIn);
  return `${formatNumber(shown, 2)} ${labelOf(shownIn)}`.trim();
}

/** Every line of the spec by measurement, run by run; only the cell that misses its requirement fails. */
export function targetTable({ spec }: Scenario, runs: readonly MeasuredRun[]): AnswerTable {
  return {
    caption:
      'The spec by measurement alone, run by run; not resolved: misses by less than the measuring error (95 %)',
    columns: ['run', ...spec.map((line) => requirementWords(line)), 'all met'].map((name) => ({ name })),
    rows: runs.map(({ name, lines, standing }) => [
      name,
      ...lines.map((line, k) => cellOf(spec[k]!, line)),
      ALL_MET[standing],
    ]),
  };
}

/** Whether a run meets the whole spec, as a table says it. */
export const ALL_MET: Readonly<Record<MeasuredStanding, string>> = {
  met: 'yes',
  missed: 'no',
  'not resolved': 'not resolved',
  'not measured': 'as far as measured',
};

function cellOf(requirement: Requirement, line: MeasuredLineOfSpec): Cell {
  if (line.standing === 'not measured') return 'not measured';
  const text = valueText(requirement, line);
  if (line.standing === 'met') return text;
  if (line.standing === 'missed') return { text: `${text}, missed`, fails: true };
  return `${text} ± ${errorText(requirement, line)}, not resolved`;
}
