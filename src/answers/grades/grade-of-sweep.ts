import type { Scenario } from '../../scenario/scenario.ts';
import { scenarioOfGrade } from '../../scenario/scenario-of-grade.ts';
import type { StoredStudy } from '../../sweep/store/stored-study.ts';
import type { Column } from '../../sweep/study/column.ts';
import { specOf } from '../../sweep/study/study-columns.ts';

/** Columns of a stored sweep that are of one grade: everything but the margins and the verdicts of the others. */
function columnsOfGrade(columns: readonly Column[], scenario: Scenario, name: string): readonly Column[] {
  const required = new Set(scenario.grades![name]!.spec.map(({ text }) => text));
  return columns.filter(({ role, of }) => {
    if (role === 'margin') return required.has(of);
    return role !== 'meetsSpec' || of === name;
  });
}

/** A stored sweep as it would be, had it been swept for one of its grades alone: the same rows. */
export function sweepOfGrade<T extends Pick<StoredStudy, 'study' | 'columns'>>(stored: T, name: string): T {
  const { study, columns } = stored;
  return {
    ...stored,
    study: { ...study, scenario: scenarioOfGrade(study.scenario, name) },
    columns: columnsOfGrade(columns, study.scenario, name),
  };
}

/** The scenario with the requirements of all its grades at once: what one product would have to meet to be every grade. */
export function withEverySpec(scenario: Scenario): Scenario {
  const { grades: _, ...rest } = scenario;
  return { ...rest, spec: specOf(scenario) };
}

/** The scenario with the requirements of two of its grades, by the goal of the first. */
export function withBothSpecs(scenario: Scenario, a: string, b: string): Scenario {
  const [first, second] = [a, b].map((name) => scenarioOfGrade(scenario, name));
  return { ...first!, spec: specOf({ spec: [...first!.spec, ...second!.spec] }) };
}
