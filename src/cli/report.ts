import { statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { carriedCondition, rankingColumns } from '../answers/carried-points.ts';
import { missingFields } from '../answers/customer/job-fields.ts';
import type { AnswerDocument } from '../answers/document.ts';
import { documentJson } from '../answers/document-json.ts';
import type { Audience } from '../answers/evidence-sentence.ts';
import { sourceWords } from '../answers/figure-source.ts';
import { sweepOfGrade } from '../answers/grades/grade-of-sweep.ts';
import { runGradesDocument } from '../answers/grades/run-grades-document.ts';
import { sweepGrades } from '../answers/grades/sweep-grades.ts';
import { sweepGradesDocument } from '../answers/grades/sweep-grades-document.ts';
import { listed } from '../answers/join-words.ts';
import type { StoredRows } from '../answers/table-from-store.ts';
import { InputError } from '../scenario/errors.ts';
import type { Scenario } from '../scenario/scenario.ts';
import type { StoredStudy } from '../sweep/store/stored-study.ts';
import { programVersion } from '../sweep/store/version.ts';
import { readTrialLogs } from '../trials/log/file.ts';
import type { LoggedTrial } from '../trials/log/logged.ts';
import type { FigureOffer } from '../viz/figures/figure-offer.ts';
import type { FigureName } from '../viz/figures/index.ts';
import { customerGradesReport } from '../viz/report/customer-report.ts';
import { EVERY_GRADE } from '../viz/report/grades-report.ts';
import type { ReportParts } from '../viz/report/parts.ts';
import { runReport } from '../viz/report/run-report.ts';
import { sweepReport } from '../viz/report/sweep-report.ts';
import { answerPage, type MadeBy } from '../viz/write/answer-page.ts';
import { deflate } from '../viz/write/deflate.ts';
import { reportText } from '../viz/write/report.ts';
import { type Command, EXIT } from './command.ts';
import { figureOptions, figureWish, writeFigure } from './figure-options.ts';
import { GRADED, gradeOf, loadGraded } from './grade-option.ts';
import { machineNamed } from './machine-named.ts';
import { readOptions, statedOptions } from './read-options.ts';
import { settable } from './set-option.ts';
import { writeWhole } from './write-file.ts';

/** `report OUT`: the page that answers. */
export const report: Command = {
  options: (argv) =>
    readOptions(
      figureOptions(argv)
        .positional('out', {
          type: 'string',
          describe: 'store of a sweep, or a scenario file for a run',
          demandOption: true,
        })
        .option('output', {
          alias: 'o',
          type: 'string',
          describe: 'page to write; default OUT/report.html, none where only a figure is written',
        })
        .option('trials', {
          type: 'string',
          array: true,
          nargs: 1,
          describe: 'trial log: its runs are marked and drawn (repeatable)',
        })
        .option('compare-with', {
          alias: 'beside',
          type: 'string',
          describe:
            'a second machine, of the catalogue or a file: its feed-rate figure at the same product is drawn over',
        })
        .option('for', {
          choices: ['engineer', 'customer'] as const,
          default: 'engineer' as const,
          describe:
            'a customer gets a document of runs and results: no coefficients, no scenario text, no model',
        })
        .option('operator', {
          type: 'boolean',
          default: false,
          describe: "name the operator in a customer's document",
        })
        .option('json', {
          type: 'boolean',
          default: false,
          describe: 'print the answer as JSON; a page is then written only with -o',
        })
        .option('grade', GRADED)
        .option(
          'set',
          settable('change a value of a run, e.g. --set settings.feedRate="200 kg/h" (repeatable)'),
        )
        .example('grindloop report out/my-case', 'the page of a sweep')
        .example(
          'grindloop report my-case.yaml -o run.html --for customer',
          'the page of one run, for a customer',
        ),
    ),
  run: async (options) => {
    const wish = figureWish(options);
    const out = String(options.out);
    const audience = options.for as Audience;
    const trialsOf = async (scenario: Scenario): Promise<readonly LoggedTrial[]> => {
      if (!Array.isArray(options.trials)) return [];
      return (await readTrialLogs(options.trials as string[], scenario, { reading: statedOptions(options) }))
        .trials;
    };
    const beside =
      typeof options.compareWith === 'string'
        ? machineNamed(options.compareWith, '--compare-with')
        : undefined;
    const operator = options.operator === true;
    if (operator && audience !== 'customer') {
      const message = "is of a customer's document; add --for customer";
      throw new InputError([{ place: '--operator', message }]);
    }
    const readers = { audience, operator, ...(beside ? { beside } : {}) };
    const made = isScenario(out)
      ? await ofRun(out, options, trialsOf, readers)
      : await ofSweep(out, options, trialsOf, readers);
    const written = wish ? await writeFigure(made.offer, wish) : [];
    if (typeof options.output === 'string' || !(wish || options.json)) {
      const file = typeof options.output === 'string' ? options.output : placeFor(out);
      writeWhole(file, made.page());
      written.unshift(file);
    }
    process.stdout.write(options.json ? made.json : `${written.join('\n')}\n`);
    return EXIT.done;
  },
};

/** For whom, and with which second machine to compare. */
interface Readers {
  readonly audience: Audience;
  readonly operator: boolean;
  readonly beside?: Scenario;
}

/** A report as it is given: a page, the same as JSON, and its figures as files. */
interface Given {
  readonly page: () => string;
  readonly json: string;
  readonly offer: FigureOffer;
}

function givenParts(parts: ReportParts): Given {
  const { json, offer } = parts;
  return { page: () => reportText(parts), json: `${JSON.stringify(json, null, 2)}\n`, offer };
}

/** The report of all grades: an answer without a live model. */
function givenDocument(document: AnswerDocument, made: MadeBy, source: string): Given {
  const figures = document.sections.flatMap(({ figures = [] }) =>
    figures.map(({ data, figure, ...rest }) => ({ ...rest, figure: figure as FigureName, input: data })),
  );
  return {
    page: () => answerPage(document, made),
    json: documentJson(document),
    offer: { figures, source },
  };
}

type TrialsOf = (scenario: Scenario) => Promise<readonly LoggedTrial[]>;

async function ofRun(
  file: string,
  options: Readonly<Record<string, unknown>>,
  trialsOf: TrialsOf,
  readers: Readers,
): Promise<Given> {
  const scenario = await loadGraded(file, options);
  const trials = await trialsOf(scenario);
  const version = programVersion();
  if (scenario.grades) {
    refuseSecondMachine(readers);
    const document = runGradesDocument(scenario, trials, readers.audience);
    const design = EVERY_GRADE;
    const made = { version, date: today(), design, scenarioText: scenario.text };
    if (readers.audience === 'customer') return forCustomer(scenario, trials, document, readers);
    return givenDocument(document, made, sourceWords(scenario, scenario.title));
  }
  sayMissing(scenario, readers);
  return givenParts(runReport(scenario, { trials, version, date: today(), ...readers }));
}

/** Says which fields of `job` a customer's document has to do without. */
function sayMissing({ job }: Scenario, { audience }: Readers): void {
  const missing = audience === 'customer' ? missingFields(job) : [];
  if (missing.length > 0)
    process.stderr.write(
      `The document is without ${listed(missing)}: write them into the scenario file to print them.\n`,
    );
}

/** The document of all grades for a customer, with the answers' own keys as JSON. */
function forCustomer(
  scenario: Scenario,
  trials: readonly LoggedTrial[],
  document: AnswerDocument,
  readers: Readers,
): Given {
  sayMissing(scenario, readers);
  const source = { scenario, trials, operator: readers.operator };
  const parts = customerGradesReport(source, document, { version: programVersion(), date: today() });
  return { ...givenParts(parts), json: documentJson(document) };
}

function refuseSecondMachine({ beside }: Readers): void {
  if (!beside) return;
  const message = 'is about one grade; name it with --grade';
  throw new InputError([{ place: '--compare-with', message }]);
}

async function ofSweep(
  out: string,
  options: Readonly<Record<string, unknown>>,
  trialsOf: TrialsOf,
  readers: Readers,
): Promise<Given> {
  if ((options.set as string[]).length > 0) {
    const message = 'changes a run only; a sweep is reported as it was stored';
    throw new InputError([{ place: '--set', message }]);
  }
  // the database is loaded only by commands that open a store
  const { openStore } = await import('../sweep/store/reader.ts');
  const reader = await openStore(out);
  try {
    const { scenario } = reader.stored.study;
    if (options.grade !== undefined && !scenario.grades) {
      const message = 'is of a sweep over grades; this one was swept for one product: leave --grade out';
      throw new InputError([{ place: '--grade', message }]);
    }
    const grade = gradeOf(scenario, options.grade).grades ? undefined : options.grade;
    const { columns, study } = reader.stored;
    const ranked = scenario.grades ? columns : rankingColumns(columns, scenario);
    const all = await reader.rows({ columns: ranked.map(({ name }) => name) });
    if (all.count === 0)
      throw new InputError([{ place: out, message: 'has no point yet; run the sweep first' }]);
    const trials = await trialsOf(scenario);
    const stored = typeof grade === 'string' ? sweepOfGrade(reader.stored, grade) : reader.stored;
    if (stored.study.scenario.grades) {
      refuseSecondMachine(readers);
      return ofGrades(stored, all, trials, readers, out);
    }
    sayMissing(scenario, readers);
    const where = carriedCondition(all, columns, study.plan.design);
    const rows = await reader.rows(where === undefined ? {} : { where });
    const ranking = where === undefined ? {} : { ranking: { columns: ranked, rows: all } };
    return givenParts(
      sweepReport(
        { stored, rows, ...ranking, trials, date: today(), version: programVersion(), ...readers },
        deflate,
      ),
    );
  } finally {
    reader.close();
  }
}

/** The report of all grades of a sweep. */
function ofGrades(
  stored: StoredStudy,
  rows: StoredRows,
  trials: readonly LoggedTrial[],
  readers: Readers,
  out: string,
): Given {
  const { study, hash, version, size } = stored;
  const { scenario, plan } = study;
  const ran = trials.map(({ scenario: at }) => at.settings.wheel);
  const document = sweepGradesDocument(sweepGrades(stored, rows, ran), trials, readers.audience, out);
  const design = `${plan.design} over ${plan.factors.map(({ path }) => path).join(', ')}: ${size} points`;
  if (readers.audience === 'customer') return forCustomer(scenario, trials, document, readers);
  const made = { version, date: today(), hash, design, scenarioText: scenario.text };
  return givenDocument(document, made, sourceWords(scenario, `${scenario.title}, sweep of ${size} points`));
}

function today(): string {
  return new Date().toISOString().slice(0, 10);
}

function isScenario(out: string): boolean {
  return /\.ya?ml$/i.test(out);
}

function placeFor(out: string): string {
  const folder = statSync(out, { throwIfNoEntry: false })?.isDirectory();
  return folder ? join(out, 'report.html') : `${basename(out).replace(/\.\w+$/, '')}.html`;
}
