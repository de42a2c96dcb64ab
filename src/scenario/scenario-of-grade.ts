import type { Grade, Scenario } from './scenario.ts';

/** Names of the grades of a scenario, in the order of the file. */
export function gradeNames({ grades }: Pick<Scenario, 'grades'>): readonly string[] {
  return placed(grades).map(([name]) => name);
}

/** The grades with their names, in the order of the file. */
export function placed(grades: Scenario['grades'] = {}): readonly (readonly [name: string, grade: Grade])[] {
  return Object.entries(grades).sort(([, a], [, b]) => a.place - b.place);
}

/**
 * The scenario of one grade: what a file with the common spec and this grade's would give.
 *
 * @throws Error where the scenario has no such grade
 */
export function scenarioOfGrade(scenario: Scenario, name: string): Scenario {
  const { grades, goal: _goal, ...rest } = scenario;
  if (!grades || !Object.hasOwn(grades, name)) throw new Error(`no grade ${name}`);
  const { spec, goal, wheelSpeed } = grades[name]!;
  const one: Scenario = { ...rest, title: `${scenario.title}: ${name}`, spec, ...(goal ? { goal } : {}) };
  if (!wheelSpeed) return one;
  const { speed, evidence, warning } = wheelSpeed;
  return {
    ...one,
    settings: { ...one.settings, wheelSpeed: speed },
    provenance: { ...one.provenance, 'settings.wheelSpeed': evidence },
    warnings: one.warnings.map((each) =>
      each.code === 'proposed' && each.message.startsWith('settings.wheelSpeed ') ? warning : each,
    ),
  };
}
