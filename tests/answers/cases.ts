import { resolve } from 'node:path';
import type { Requirement } from '../../src/scenario/expression/expression.ts';
import { parseRequirement } from '../../src/scenario/expression/parse.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import { QUANTITIES } from '../../src/scenario/outcome/quantities.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { isProblem } from '../../src/scenario/units/problem.ts';

const DEMO = resolve(import.meta.dirname, '../../scenarios/erythritol.yaml');

/** The demo case with values changed as `--set` changes them. */
export function demo(...set: readonly string[]): Promise<Scenario> {
  return loadScenario(DEMO, { set });
}

/** A requirement as the file would read it. */
export function requirement(text: string): Requirement {
  const read = parseRequirement(text, QUANTITIES);
  if (isProblem(read)) throw new Error(`${text}: ${read.problem}`);
  return read;
}

/** A scenario that requires something else. */
export function requiring(scenario: Scenario, ...texts: readonly string[]): Scenario {
  return { ...scenario, spec: texts.map(requirement) };
}
