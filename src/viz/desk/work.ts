import { beforeAfter } from '../../answers/desk/before-after.ts';
import { CALIBRATION_FILE } from '../../answers/desk/campaign-log.ts';
import { caseFacts } from '../../answers/desk/case-facts.ts';
import { type DocumentWish, deskDocument } from '../../answers/desk/desk-documents.ts';
import { type CaseFiles, deskFiles, type Shelf } from '../../answers/desk/desk-files.ts';
import { fileFacts } from '../../answers/desk/file-facts.ts';
import {
  deskFit,
  deskNext,
  type LogFacts,
  logFacts,
  loggedTrials,
  type Visit,
} from '../../answers/desk/trials.ts';
import { type Audience, standsOn } from '../../answers/evidence-sentence.ts';
import { ladderView } from '../../answers/feed-ladder.ts';
import { withBands } from '../../answers/feed-ladder-bands.ts';
import { fitDocument } from '../../answers/fit/fit-document.ts';
import { gradesAtPoint, gradesAtPointTable } from '../../answers/grades/grades-at-point.ts';
import { bandsView } from '../../answers/limit-bands.ts';
import { planeView } from '../../answers/plane.ts';
import { pointState, pointView } from '../../answers/point-view.ts';
import { asInFile } from '../../answers/recommend.ts';
import { answerOf } from '../../answers/report-answer.ts';
import { turnsView } from '../../answers/setting-corrections.ts';
import { InputError } from '../../scenario/errors.ts';
import { parseScenario } from '../../scenario/parse.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { gradeNames, scenarioOfGrade } from '../../scenario/scenario-of-grade.ts';
import { answerBody, answerTable } from '../html/answer-body.ts';
import { gradesReport } from '../report/grades-report.ts';
import { runReport } from '../report/run-report.ts';
import { answerSection } from '../report/sections/answer.ts';
import { sourcesHtml } from '../report/sections/assumptions.ts';
import { numbersHtml, turnsHtml } from '../report/sections/bench.ts';
import { cautionsSection } from '../report/sections/cautions.ts';
import { runSheetBody } from '../run-sheet/page.ts';
import type {
  CaseReply,
  DeskJob,
  DeskRequest,
  DeskResults,
  DeskStart,
  DocumentReply,
  FitReply,
  NextReply,
  ReportReply,
  TrialsReply,
} from './jobs.ts';

/** The name a case has on the desk, for faults about it as a whole. */
export const CASE_NAME = 'case.yaml';

/** Does the jobs of a desk; keeps the case last read. */
export class DeskWork {
  private readonly shelf: Shelf;
  private readonly version: string;
  private last:
    | { readonly about: CaseFiles; readonly whole: Scenario; readonly scenario: Scenario }
    | undefined;

  constructor({ shelf, version }: DeskStart) {
    this.shelf = shelf;
    this.version = version;
  }

  /**
   * @param progress told the share done of a job that takes long
   * @throws InputError where a job about the answer is about a case with faults
   */
  do(
    { about, job }: Pick<DeskRequest, 'about' | 'job'>,
    progress: (share: number) => void = () => undefined,
  ): DeskResults[DeskJob['kind']] {
    if (job.kind === 'case') return this.caseReply(about);
    if (job.kind === 'trials') return this.trialsReply(about);
    if (job.kind === 'fit') return this.fitReply(about, progress);
    const scenario = this.read(about);
    switch (job.kind) {
      case 'answer':
        return answerParts(scenario, this.last!.whole);
      case 'plane':
        return planeView(scenario, job.x, job.y, job.quantity);
      case 'limits':
        return bandsView(scenario, job.x, job.y);
      case 'ladder':
        return ladderView(scenario);
      case 'bands':
        return withBands(scenario, job.ladder);
      case 'changes':
        return turnsHtml(turnsView(scenario)).text;
      case 'document':
        return this.documentReply(scenario, job.wish);
      case 'next':
        return nextReply(scenario, job.visit);
      case 'report':
        return this.report(scenario, about, job);
      case 'shift':
        return answerTable(beforeAfter(this.plain(about), scenario), 'Before and after the calibration').text;
    }
  }

  private trialsReply(about: CaseFiles): TrialsReply {
    const files = fileFacts(about);
    const log = this.logOf(about);
    if (!log) return { files, foretold: '' };
    const { foretold, ...rest } = log;
    const table = foretold ? answerTable(foretold, 'Predicted and measured').text : '';
    return { files, log: rest, foretold: table };
  }

  /** The log, read with the case; none while the case has faults. */
  private logOf(about: CaseFiles): LogFacts | undefined {
    try {
      return logFacts(this.read(about), about);
    } catch (error) {
      if (error instanceof InputError) return undefined;
      throw error;
    }
  }

  private fitReply(about: CaseFiles, progress: (share: number) => void): FitReply {
    try {
      const scenario = this.plain(about);
      const found = deskFit(scenario, about, this.version, progress);
      if ('noFit' in found) return found;
      const { title, job } = scenario;
      const document = fitDocument(found.report, { title, job, calibration: CALIBRATION_FILE });
      return {
        title: `${document.title}: fit`,
        body: answerBody(document).text,
        answer: document.answer,
        calibration: found.calibration,
      };
    } catch (error) {
      if (error instanceof InputError) return { faults: error.faults };
      throw error;
    }
  }

  /** The report the command writes of a run, of every grade where none is chosen, with the trials of the log where it has no fault. */
  private report(
    scenario: Scenario,
    { files }: CaseFiles,
    { audience, date }: { readonly audience: Audience; readonly date: string },
  ): ReportReply {
    const trials = loggedTrials(scenario, files);
    const made = { version: this.version, date };
    const parts = scenario.grades
      ? gradesReport(scenario, trials, audience, made)
      : runReport(scenario, { ...made, audience, trials });
    const { title, body, data, still, foot = '' } = parts;
    return { title, body: body.text, data, foot, ...(still ? { still } : {}) };
  }

  /** The case without its calibration. */
  private plain(about: CaseFiles): Scenario {
    const files = deskFiles(this.shelf, about.files);
    return ofGrade(parseScenario(about.text, { ...files, name: CASE_NAME, uncalibrated: true }), about);
  }

  private caseReply(about: CaseFiles): CaseReply {
    try {
      const scenario = this.read(about);
      return replyOf(scenario, gradeNames(this.last!.whole));
    } catch (error) {
      if (error instanceof InputError) return { faults: error.faults };
      throw error;
    }
  }

  private documentReply(scenario: Scenario, wish: DocumentWish): DocumentReply {
    try {
      const document = deskDocument(scenario, wish, this.shelf);
      return { title: `${document.title}: ${document.command}`, body: answerBody(document).text };
    } catch (error) {
      if (error instanceof InputError) return { faults: error.faults };
      throw error;
    }
  }

  private read(about: CaseFiles): Scenario {
    if (this.last && sameCase(this.last.about, about)) return this.last.scenario;
    const whole = parseScenario(about.text, { ...deskFiles(this.shelf, about.files), name: CASE_NAME });
    const scenario = ofGrade(whole, about);
    this.last = { about, whole, scenario };
    return scenario;
  }
}

/** The grade asked about; the whole case where none is, or none of that name is in it any more. */
function ofGrade(whole: Scenario, { grade }: CaseFiles): Scenario {
  return grade !== undefined && gradeNames(whole).includes(grade) ? scenarioOfGrade(whole, grade) : whole;
}

function nextReply(scenario: Scenario, visit: Visit): NextReply {
  try {
    const { sheet, planned } = deskNext(scenario, visit);
    const body = runSheetBody(sheet).text;
    return { title: `${sheet.title}: run sheet`, body, answer: sheet.headline, planned };
  } catch (error) {
    if (error instanceof InputError) return { faults: error.faults };
    throw error;
  }
}

/** What the solve alone says, at once. */
function replyOf(scenario: Scenario, grades: readonly string[]): CaseReply {
  const view = pointView(scenario);
  return {
    facts: caseFacts(scenario, grades),
    view,
    state: pointState(scenario, view),
    parts: { numbers: numbersHtml(view.outcome).text },
  };
}

/** The answer in words, with the odds over samples of the coefficients; every grade of the whole case beside it. */
function answerParts(scenario: Scenario, whole: Scenario): DeskResults['answer'] {
  const { warnings } = pointView(scenario).outcome;
  const own = answerSection(answerOf(asInFile(scenario), scenario), standsOn(scenario, 'engineer')).text;
  const grades = whole.grades
    ? answerTable(
        { ...gradesAtPointTable(gradesAtPoint(whole)), caption: 'Grade by grade, at these settings' },
        'Grade by grade, at these settings',
      ).text
    : '';
  return {
    answer: `${own}${grades}`,
    sources: sourcesHtml(scenario).text,
    cautions: cautionsSection(warnings, scenario).text,
  };
}

function sameCase(one: CaseFiles, other: CaseFiles): boolean {
  const names = Object.keys(one.files);
  return (
    one.text === other.text &&
    one.grade === other.grade &&
    names.length === Object.keys(other.files).length &&
    names.every((name) => sameBytes(one.files[name]!, other.files[name]))
  );
}

function sameBytes(one: Uint8Array, other: Uint8Array | undefined): boolean {
  return other !== undefined && one.length === other.length && one.every((byte, i) => byte === other[i]);
}
