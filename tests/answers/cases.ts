import { resolve } from 'node:path';
import type { Verdict } from '../../src/answers/verdict.ts';
import { amountText } from '../../src/answers/verdict-words.ts';
import { requirementWords } from '../../src/answers/words.ts';
import type { Requirement } from '../../src/scenario/expression/expression.ts';
import { parseRequirement } from '../../src/scenario/expression/parse-expression.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import { QUANTITIES } from '../../src/scenario/outcome/quantities.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { formatNumber } from '../../src/scenario/units/display.ts';
import { isProblem } from '../../src/scenario/units/unit-problem.ts';

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

/** What a page has to say of a point whose verdict `run --json` writes; of a point that chokes, how that begins. */
export function wordsOfVerdict({ meets, fails, nearest }: Verdict): string {
  const quoted = (text: string) => `"${requirementWords(requirement(text))}"`;
  if (meets)
    return `it meets the whole spec, and ${quoted(nearest!.text)} is nearest its limit (relative margin ${formatNumber(100 * nearest!.relativeMargin, 2)} %)`;
  if (nearest === null) return 'the mill chokes (';
  const misses = fails.map(({ text, by, unit }) => {
    const name = text.startsWith('highest ') ? `the ${text}` : quoted(text);
    return by === null ? `${name}, which has no value here` : `${name} by ${amountText(by, unit)}`;
  });
  const last = misses.pop()!;
  return `it misses ${misses.length > 0 ? `${misses.join(', ')} and ${last}` : last}`;
}
