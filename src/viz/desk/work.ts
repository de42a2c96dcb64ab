import { caseFacts } from '../../answers/desk/case-facts.ts';
import { type DocumentWish, deskDocument } from '../../answers/desk/desk-documents.ts';
import { type CaseFiles, deskFiles, type Shelf } from '../../answers/desk/desk-files.ts';
import { standsOn } from '../../answers/evidence-sentence.ts';
import { ladderView } from '../../answers/feed-ladder.ts';
import { withBands } from '../../answers/feed-ladder-bands.ts';
import { planeView } from '../../answers/plane.ts';
import { pointState, pointView } from '../../answers/point-view.ts';
import { asInFile } from '../../answers/recommend.ts';
import { answerOf } from '../../answers/report-answer.ts';
import { turnsView } from '../../answers/setting-corrections.ts';
import { InputError } from '../../scenario/errors.ts';
import { parseScenario } from '../../scenario/parse.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { answerBody } from '../html/answer-body.ts';
import { answerSection } from '../report/sections/answer.ts';
import { sourcesHtml } from '../report/sections/assumptions.ts';
import { numbersHtml, turnsHtml } from '../report/sections/bench.ts';
import { cautionsSection } from '../report/sections/cautions.ts';
import type { CaseReply, DeskJob, DeskRequest, DeskResults, DocumentReply } from './jobs.ts';

/** The name a case has on the desk, for faults about it as a whole. */
export const CASE_NAME = 'case.yaml';

/** Does the jobs of a desk; keeps the case last read. */
export class DeskWork {
  private readonly shelf: Shelf;
  private last: { readonly about: CaseFiles; readonly scenario: Scenario } | undefined;

  constructor(shelf: Shelf) {
    this.shelf = shelf;
  }

  /** @throws InputError where a job other than `case` is about a case with faults */
  do({ about, job }: Pick<DeskRequest, 'about' | 'job'>): DeskResults[DeskJob['kind']] {
    if (job.kind === 'case') return this.caseReply(about);
    const scenario = this.read(about);
    switch (job.kind) {
      case 'plane':
        return planeView(scenario, job.x, job.y, job.quantity);
      case 'ladder':
        return ladderView(scenario);
      case 'bands':
        return withBands(scenario, job.ladder);
      case 'changes':
        return turnsHtml(turnsView(scenario)).text;
      case 'document':
        return this.documentReply(scenario, job.wish);
    }
  }

  private caseReply(about: CaseFiles): CaseReply {
    try {
      return replyOf(this.read(about));
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
    const scenario = parseScenario(about.text, { ...deskFiles(this.shelf, about.files), name: CASE_NAME });
    this.last = { about, scenario };
    return scenario;
  }
}

function replyOf(scenario: Scenario): CaseReply {
  const view = pointView(scenario);
  return {
    facts: caseFacts(scenario),
    view,
    state: pointState(scenario, view),
    parts: {
      answer: answerSection(answerOf(asInFile(scenario), scenario), standsOn(scenario, 'engineer')).text,
      numbers: numbersHtml(view.outcome).text,
      sources: sourcesHtml(scenario).text,
      cautions: cautionsSection(view.outcome.warnings, scenario).text,
    },
  };
}

function sameCase(one: CaseFiles, other: CaseFiles): boolean {
  const names = Object.keys(one.files);
  return (
    one.text === other.text &&
    names.length === Object.keys(other.files).length &&
    names.every((name) => sameBytes(one.files[name]!, other.files[name]))
  );
}

function sameBytes(one: Uint8Array, other: Uint8Array | undefined): boolean {
  return other !== undefined && one.length === other.length && one.every((byte, i) => byte === other[i]);
}
