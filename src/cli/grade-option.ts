import { InputError } from '../scenario/errors.ts';
import { loadScenario } from '../scenario/load.ts';
import { suggestion } from '../scenario/read/did-you-mean.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { gradeNames, scenarioOfGrade } from '../scenario/scenario-of-grade.ts';

/** The option `--grade NAME`. */
export const GRADED = {
  type: 'string',
  describe: 'one of the grades of the file: its spec and goal are added to the common ones',
} as const;

/**
 * The scenario a command line names, of the grade it names.
 *
 * @param needed whether the command answers one grade at a time
 * @throws InputError for faults of the file, and where the grade is unknown or missing
 */
export async function loadGraded(
  file: string,
  { set, grade }: Readonly<Record<string, unknown>>,
  needed = false,
): Promise<Scenario> {
  return gradeOf(await loadScenario(file, { set: set as string[] }), grade, needed);
}

/** A scenario narrowed to the grade named on the command line. */
export function gradeOf(scenario: Scenario, grade: unknown, needed = false): Scenario {
  const names = gradeNames(scenario);
  if (typeof grade === 'string') {
    if (names.includes(grade)) return scenarioOfGrade(scenario, grade);
    const message =
      names.length === 0
        ? 'the file has no grades; remove --grade, or add a grades: block'
        : `the file has no grade ${grade.slice(0, 40)}${suggestion(grade, names)}`;
    throw new InputError([{ place: '--grade', message }]);
  }
  if (!needed || names.length === 0) return scenario;
  const message = `the file has the grades ${names.join(', ')}; name one, e.g. --grade ${names[0]}`;
  throw new InputError([{ place: '--grade', message }]);
}
