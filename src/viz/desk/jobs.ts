import type { CaseFacts } from '../../answers/desk/case-facts.ts';
import type { DocumentWish } from '../../answers/desk/desk-documents.ts';
import type { CaseFiles, Shelf } from '../../answers/desk/desk-files.ts';
import type { FileFacts } from '../../answers/desk/file-facts.ts';
import type { LogFacts, Visit } from '../../answers/desk/trials.ts';
import type { Audience } from '../../answers/evidence-sentence.ts';
import type { LadderInput } from '../../answers/feed-ladder.ts';
import type { PlaneAxis } from '../../answers/plane.ts';
import type { PointView } from '../../answers/point-view.ts';
import type { Bands } from '../../answers/sweep-window.ts';
import type { Fault } from '../../scenario/errors.ts';
import type { PlaneFields } from '../../search/window/window.ts';
import type { ReportParts } from '../report/parts.ts';

/** What the desk asks of its workers; every job carries the case it is about. */
export type DeskJob =
  | { readonly kind: 'case' }
  | { readonly kind: 'answer' }
  | { readonly kind: 'plane'; readonly x: PlaneAxis; readonly y: PlaneAxis; readonly quantity: string }
  | { readonly kind: 'limits'; readonly x: PlaneAxis; readonly y: PlaneAxis }
  | { readonly kind: 'ladder' }
  | { readonly kind: 'bands'; readonly ladder: LadderInput }
  | { readonly kind: 'changes' }
  | { readonly kind: 'document'; readonly wish: DocumentWish }
  | { readonly kind: 'trials' }
  | { readonly kind: 'fit' }
  | { readonly kind: 'next'; readonly visit: Visit }
  | { readonly kind: 'shift' }
  | { readonly kind: 'report'; readonly audience: Audience; readonly date: string };

export type DeskKind = DeskJob['kind'];

export interface DeskRequest {
  readonly id: number;
  readonly about: CaseFiles;
  readonly job: DeskJob;
}

/** A case as read: its faults, or what is known of it and its operating point. */
export type CaseReply =
  | { readonly faults: readonly Fault[] }
  | {
      readonly facts: CaseFacts;
      readonly view: PointView;
      readonly state: string;
      readonly parts: PartsHtml<'numbers'>;
    };

/** Sections of an answer as HTML. */
export type PartsHtml<Name extends string> = Readonly<Record<Name, string>>;

/** A document as the body of a page, or why there is none, in words. */
export type DocumentReply =
  | { readonly title: string; readonly body: string }
  | { readonly faults: readonly Fault[] };

/** The campaign's files and log as they were understood. */
export interface TrialsReply {
  readonly files: readonly FileFacts[];
  /** Absent without a log, or while the case has faults. */
  readonly log?: Omit<LogFacts, 'foretold'>;
  /** Predicted beside measured, as HTML; empty where nothing was predicted. */
  readonly foretold: string;
}

/** What a fit found: its document, and the calibration as a file's text; or why there is none. */
export type FitReply =
  | {
      readonly title: string;
      readonly body: string;
      readonly answer: readonly string[];
      readonly calibration: string;
    }
  | { readonly noFit: string }
  | { readonly faults: readonly Fault[] };

/** A run sheet as the body of a page, and cells by column of the runs it plans. */
export type NextReply =
  | {
      readonly title: string;
      readonly body: string;
      readonly answer: readonly string[];
      readonly planned: readonly Readonly<Record<string, string>>[];
    }
  | { readonly faults: readonly Fault[] };

/** Result of each kind of job. */
export interface DeskResults {
  readonly case: CaseReply;
  readonly answer: PartsHtml<'answer' | 'sources' | 'cautions'>;
  readonly plane: PlaneFields;
  /** Where each limit of the window may lie. */
  readonly limits: Bands;
  readonly ladder: LadderInput;
  readonly bands: LadderInput;
  readonly changes: string;
  readonly document: DocumentReply;
  readonly trials: TrialsReply;
  readonly fit: FitReply;
  readonly next: NextReply;
  /** What a calibration changes at the settings of the case, as HTML. */
  readonly shift: string;
  readonly report: ReportReply;
}

/** A report before its scripts and style are put in: `ReportParts`, its body as text. */
export type ReportReply = Omit<ReportParts, 'body' | 'offer' | 'json'> & { readonly body: string };

/** First message to a worker. */
export interface DeskStart {
  readonly shelf: Shelf;
  readonly version: string;
}
