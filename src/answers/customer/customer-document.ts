import { SAFETY_CAUTION } from '../../plant/safety/checklist.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { placed } from '../../scenario/scenario-of-grade.ts';
import { coverageOf } from '../../trials/foretold.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import type { AnswerDocument, AnswerTable, FigureReference, Section } from '../document.ts';
import { dustWords } from '../dust-words.ts';
import { standsOn } from '../evidence-sentence.ts';
import { foretoldTable } from '../foretold-table.ts';
import { type MeasuredRun, measuredSentences, targetTable } from '../measured-runs.ts';
import { type PointView, pointView, type SizeLine } from '../point-view.ts';
import { type Answer, specTable } from '../report-answer.ts';
import { runCurves } from '../run-curves.ts';
import { ladderWith } from '../second-machine.ts';
import type { Table } from '../table.ts';
import { sentence, words } from '../text.ts';
import { balanceTable, energyTable, flagsOf, remarksOf, runTable } from '../trial-tables.ts';
import { nameInWords, requirementWords } from '../words.ts';
import { equipmentTable, materialTable } from './equipment.ts';
import { namesOperator } from './job-fields.ts';

/** What a customer's document is made from. */
export interface CustomerSource {
  /** At the settings put forward, or those of the file. */
  readonly scenario: Scenario;
  readonly answer: Answer;
  readonly trials: readonly LoggedTrial[];
  readonly runs: readonly MeasuredRun[];
  /** Whether who ran the mill is named. */
  readonly operator: boolean;
  /** A second machine, laid over the ladder. */
  readonly beside?: Scenario;
}

const LONGEST = 2000;

/**
 * The document a customer keeps: objective, result, material, equipment, runs, results at the sizes of the spec, what was
 * predicted and then measured, conclusion, next step, cautions. It holds no coefficient, no text of the scenario and no model.
 */
export function customerDocument(source: CustomerSource): AnswerDocument {
  const { scenario, answer, trials, runs } = source;
  const view = pointView(scenario);
  const { job } = scenario;
  const measured = measuredSentences(scenario, runs);
  const estimate = `${answer.opening} ${answer.sentence} ${standsOn(scenario, 'customer')}`;
  return {
    command: 'report',
    found: answer.verdict?.meets ?? true,
    title: scenario.title,
    job,
    answer: [...measured, estimate],
    sections: [
      { id: 'objective', heading: 'Objective', sentences: objectiveOf(scenario) },
      { id: 'result', heading: 'Result', sentences: [...measured, estimate] },
      ...said('conclusion', 'Conclusion', job.conclusion),
      ...said('next-step', 'Next step', job.nextStep),
      { id: 'material', heading: 'Material', tables: [materialTable(scenario, feedSizes(view))] },
      { id: 'equipment', heading: 'Equipment', tables: [equipmentTable(scenario, trials)] },
      ...trialSections(source),
      settingsSection(source, view),
    ],
    notes: [],
    cautions: [SAFETY_CAUTION, dustWords(scenario)],
    keys: {},
  };
}

/** The job's own words on one thing; nothing where it has none. */
function said(id: string, heading: string, text: string | undefined): Section[] {
  return text === undefined ? [] : [{ id, heading, sentences: [words(text, LONGEST)] }];
}

/**
 * The same document of a visit that made several grades: what was required of each, the answer grade by grade, then as above.
 *
 * @param document the report of all grades, for a customer
 */
export function customerGradesSections(
  { scenario, trials, operator }: Pick<CustomerSource, 'scenario' | 'trials' | 'operator'>,
  { opening = '', answer: [first = '', ...more], sections }: AnswerDocument,
): Section[] {
  const { job } = scenario;
  const required = placed(scenario.grades).map(
    ([name, { spec }]) => `Required of ${name}: ${spec.map((line) => requirementWords(line)).join('; ')}.`,
  );
  const objective = job.objective === undefined ? [] : [words(job.objective, LONGEST)];
  return [
    { id: 'objective', heading: 'Objective', sentences: [...objective, ...required] },
    {
      id: 'result',
      heading: 'Result',
      sentences: [`${opening} ${first} ${standsOn(scenario, 'customer')}`.trim(), ...more],
    },
    ...said('conclusion', 'Conclusion', job.conclusion),
    ...said('next-step', 'Next step', job.nextStep),
    {
      id: 'material',
      heading: 'Material',
      tables: [materialTable(scenario, feedSizes(pointView(scenario)))],
    },
    { id: 'equipment', heading: 'Equipment', tables: [equipmentTable(scenario, trials)] },
    ...sections,
    ...remarkSections(trials, operator),
    ...balanceSections(trials),
  ];
}

function objectiveOf({ job, spec, goal }: Scenario): string[] {
  const required =
    spec.length > 0 ? [`Required: ${spec.map((line) => requirementWords(line)).join('; ')}.`] : [];
  const wish =
    goal && goal.expression.kind === 'quantity'
      ? [`Goal: ${goal.sense} ${nameInWords(goal.expression.name)}.`]
      : [];
  return [...(job.objective === undefined ? [] : [words(job.objective, LONGEST)]), ...required, ...wish];
}

/** Feed at 10, 50 and 90 % [m]. */
function feedSizes({ curves }: PointView): [number, number, number] | undefined {
  const feed = curves?.behind.find(({ name }) => name === 'feed');
  if (!feed) return undefined;
  const [a, b, c] = [0.1, 0.5, 0.9].map((share) => 1e-6 * sizeAt(feed, share));
  return [a!, b!, c!];
}

/** Size at a share, straight in ln x [µm]. */
function sizeAt({ sizes, undersize }: SizeLine, share: number): number {
  for (let i = 1; i < sizes.length; i++) {
    if (undersize[i]! < share || !(sizes[i - 1]! > 0)) continue;
    const part = (share - undersize[i - 1]!) / (undersize[i]! - undersize[i - 1]! || 1);
    return sizes[i - 1]! * (sizes[i]! / sizes[i - 1]!) ** part;
  }
  return Number.NaN;
}

/** Runs, results and balances; nothing where no run was made. */
function trialSections({ scenario, trials, runs, operator }: CustomerSource): Section[] {
  if (trials.length === 0) return [];
  const curves = runCurves(scenario, trials);
  const foretold = foretoldTable(coverageOf(trials));
  return [
    {
      id: 'runs',
      heading: 'Runs',
      tables: [
        tabled(
          runTable(trials),
          `${trials.length} ${trials.length === 1 ? 'run' : 'runs'}: settings as set, readings as taken; – was not measured`,
        ),
      ],
    },
    ...remarkSections(trials, operator),
    {
      id: 'results',
      heading: 'Results at the sizes of the spec',
      tablesFirst: true,
      ...(scenario.spec.length > 0 ? { tables: [targetTable(scenario, runs)] } : {}),
      ...(curves
        ? { figures: [figure('run-curves', 'The runs against the spec', 'size-curve', curves)] }
        : {}),
    },
    ...(foretold ? [{ id: 'predicted', heading: 'Predicted and measured', tables: [foretold] }] : []),
    ...balanceSections(trials),
  ];
}

/** What was written beside the runs. */
function remarkSections(trials: readonly LoggedTrial[], operator: boolean): Section[] {
  const remarks = remarksOf(trials, (heading) => namesOperator(heading) && !operator);
  return [
    ...(remarks.length + flagsOf(trials).length > 0
      ? [
          {
            id: 'remarks',
            heading: 'Remarks on the runs',
            sentences: [...remarks, ...flagsOf(trials)].map((line) => sentence(line)),
          },
        ]
      : []),
  ];
}

/** Masses and energy of the runs. */
function balanceSections(trials: readonly LoggedTrial[]): Section[] {
  const balance = balanceTable(trials);
  const energy = energyTable(trials);
  return [
    ...(balance.rows.length > 0
      ? [
          {
            id: 'balance',
            heading: 'Mass balance',
            tables: [
              tabled(
                balance,
                'Feed against product and filter; reconciled by least adjustment within the errors of weighing',
              ),
            ],
          },
        ]
      : []),
    ...(energy.rows.length > 0
      ? [{ id: 'energy', heading: 'Energy', tables: [tabled(energy, 'Measured power over feed rate')] }]
      : []),
  ];
}

/** What the model computes at the settings put forward: the product alone, and how much the mill can do. */
function settingsSection({ scenario, answer, beside }: CustomerSource, { curves }: PointView): Section {
  const product = curves && { product: curves.product, behind: [], gates: curves.gates, measured: [] };
  return {
    id: 'settings',
    heading: 'Settings and product as computed',
    tablesFirst: true,
    sentences: answer.second,
    ...(answer.spec.length > 0 ? { tables: [specTable(answer.spec)] } : {}),
    figures: [
      ...(product ? [figure('size-curve', 'Size curve as computed', 'size-curve', product)] : []),
      figure('ladder', 'How much can it do?', 'ladder', ladderWith(scenario, beside)),
    ],
  };
}

function figure(id: string, title: string, kind: string, data: unknown): FigureReference {
  return { id, title, figure: kind, data };
}

function tabled({ heads, rows }: Table, caption: string): AnswerTable {
  return { caption, columns: heads.map((name) => ({ name })), rows };
}
