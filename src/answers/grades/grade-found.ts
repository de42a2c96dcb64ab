import type { FindAnswer } from '../find/find-answer.ts';

/** One grade and what `find` answers for it. */
export interface GradeFound {
  readonly name: string;
  readonly answer: FindAnswer;
  /** Whether settings were found: that meet the spec, and with the confidence required where one is. */
  readonly found: boolean;
}
