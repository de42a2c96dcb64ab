import { machineAlone } from '../../scenario/machine-alone.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { compared, USUAL_COMPARISON, understood } from '../compare/compare-answer.ts';
import { compareDocument } from '../compare/compare-document.ts';
import type { AnswerDocument } from '../document.ts';
import { findAnswer, searchable } from '../find/find-answer.ts';
import { findDocument } from '../find/find-document.ts';
import { gradesAnswer } from '../grades/grades-answer.ts';
import { gradesDocument } from '../grades/grades-document.ts';
import { plantDocument } from '../plant/plant-document.ts';
import { scaleDocument } from '../scale/scale-document.ts';
import { timeDocument } from '../time/time-document.ts';
import { deskFiles, type Shelf } from './desk-files.ts';

/** Answers of commands that a desk computes as documents. */
export const DOCUMENTS = ['find', 'compare', 'scale', 'plant', 'time'] as const;
export type DocumentName = (typeof DOCUMENTS)[number];

/** What a document is asked for. */
export interface DocumentWish {
  readonly name: DocumentName;
  /** Machine of the catalogue a product is scaled to. */
  readonly to?: string;
}

const SEED = 1;

/**
 * The document a command would write for this case, with the options it has unless told otherwise.
 *
 * @throws InputError where the case does not allow it, in words
 */
export function deskDocument(scenario: Scenario, { name, to }: DocumentWish, shelf: Shelf): AnswerDocument {
  switch (name) {
    case 'find': {
      if (scenario.grades) return gradesDocument(gradesAnswer(scenario, SEED, undefined));
      const answer = findAnswer(searchable(scenario, false), SEED, undefined);
      return findDocument(answer, answer.nominal.meets);
    }
    case 'compare':
      return comparison(scenario);
    case 'scale':
      return scaleDocument(scenario, machineAlone(to ?? '', deskFiles(shelf, {})), {});
    case 'plant':
      return plantDocument(scenario);
    case 'time':
      return timeDocument(scenario, false);
  }
}

function comparison(scenario: Scenario): AnswerDocument {
  return compareDocument(scenario, compared(scenario, understood(USUAL_COMPARISON)));
}
