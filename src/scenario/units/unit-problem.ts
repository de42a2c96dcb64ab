/** Why a text could not be read, as the end of a sentence: `must be a length, but kg is not a unit of that kind`. */
export interface Problem {
  readonly problem: string;
}

/** A problem from its words. */
export function problem(words: string): Problem {
  return { problem: words };
}

/** Whether reading failed. */
export function isProblem(result: unknown): result is Problem {
  return typeof result === 'object' && result !== null && 'problem' in result;
}
