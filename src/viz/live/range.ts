import { solvePoint } from '../../scenario/outcome/solved.ts';
import { expressionValue, isMet, marginOf } from '../../scenario/outcome/spec.ts';
import { toCase } from '../../scenario/point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { toShown } from '../../scenario/units/display.ts';
import { drawnScenarios } from './spread.ts';

/** What the assumed coefficients' spread makes of one operating point. */
export interface RangeView {
  readonly draws: number;
  /** Draws in which the mill chokes. */
  readonly choked: number;
  /** Draws that meet the whole spec. */
  readonly meet: number;
  /** For each spec line, the middle 80 % of its value in its shown unit, and the draws that meet it. */
  readonly lines: readonly { readonly low: number; readonly high: number; readonly meet: number }[];
}

const DRAWS = 200;

/** Solves an operating point once for each draw of the uncertain coefficients. */
export function rangeView(scenario: Scenario): RangeView {
  const values = scenario.spec.map((): number[] => []);
  const met = scenario.spec.map(() => 0);
  const drawn = drawnScenarios(scenario, DRAWS);
  let [choked, meet] = [0, 0];
  for (const each of drawn) {
    const point = solvePoint(toCase(each));
    if (point.status === 'choked') {
      choked++;
      continue;
    }
    let all = true;
    each.spec.forEach((requirement, k) => {
      values[k]!.push(toShown(expressionValue(requirement.left, point), requirement.shownIn));
      if (isMet(requirement, marginOf(requirement, point))) met[k]!++;
      else all = false;
    });
    if (all) meet++;
  }
  const lines = values.map((own, k) => {
    const sorted = own.sort((a, b) => a - b);
    const at = (share: number) => sorted[Math.round(share * (sorted.length - 1))] ?? Number.NaN;
    return { low: at(0.1), high: at(0.9), meet: met[k]! };
  });
  return { draws: drawn.length, choked, meet, lines };
}
