import { InputError } from '../../scenario/errors.ts';
import { machineAlone } from '../../scenario/machine-alone.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { isProblem } from '../../scenario/units/problem.ts';
import { compareWheels } from '../../search/compare/comparison.ts';
import { matchingOf, matchingProblem } from '../../search/compare/target.ts';
import { compareDocument } from '../compare/compare-document.ts';
import type { AnswerDocument } from '../document.ts';
import { findAnswer, searchable } from '../find/find-answer.ts';
import { findDocument } from '../find/find-document.ts';
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

/** Fines counted in a comparison, below [m]; as the command has it unless told otherwise. */
const FINES = 10e-6;
const SEED = 1;

/**
 * The document a command would write for this case, with the options it has unless told otherwise.
 *
 * @throws InputError where the case does not allow it, in words
 */
export function deskDocument(scenario: Scenario, { name, to }: DocumentWish, shelf: Shelf): AnswerDocument {
  switch (name) {
    case 'find': {
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
  const matching = matchingOf('x95');
  if (isProblem(matching)) throw new InputError([{ place: 'compare', message: matching.problem }]);
  const unfit = matchingProblem(scenario, matching);
  if (unfit) throw new InputError([{ place: 'compare', message: unfit }]);
  return compareDocument(scenario, compareWheels(scenario, { ...matching, fines: FINES }));
}
