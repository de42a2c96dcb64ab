import { expressionValue, isMet, marginOf } from '../scenario/outcome/spec.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { toShown } from '../scenario/units/display.ts';
import { posteriorOf } from '../trials/calibration/take-up.ts';
import { quantile } from '../trials/fit/quantile.ts';
import { pointInWorld, worldsOf } from '../trials/posterior-samples.ts';

/** What the spread of the coefficients, assumed or fitted, makes of one operating point. */
export interface RangeView {
  readonly worlds: number;
  /** Worlds in which the mill chokes. */
  readonly choked: number;
  /** Worlds that meet the whole spec. */
  readonly meet: number;
  /** For each spec line, the middle 80 % of its value in its shown unit, and the worlds that meet it. */
  readonly lines: readonly { readonly low: number; readonly high: number; readonly meet: number }[];
}

const WORLDS = 200;

/** Solves an operating point once for each world of the coefficients' joint distribution. */
export function rangeView(scenario: Scenario): RangeView {
  const values = scenario.spec.map((): number[] => []);
  const met = scenario.spec.map(() => 0);
  const posterior = posteriorOf(scenario);
  const worlds = worldsOf(posterior, WORLDS);
  let [choked, meet] = [0, 0];
  for (const world of worlds) {
    const point = pointInWorld(scenario, posterior, world);
    if (point.status === 'choked') {
      choked++;
      continue;
    }
    let all = true;
    scenario.spec.forEach((requirement, k) => {
      values[k]!.push(toShown(expressionValue(requirement.left, point), requirement.shownIn));
      if (isMet(requirement, marginOf(requirement, point))) met[k]!++;
      else all = false;
    });
    if (all) meet++;
  }
  const lines = values.map((own, k) => {
    const sorted = own.filter(Number.isFinite).sort((a, b) => a - b);
    return { low: quantile(sorted, 0.1), high: quantile(sorted, 0.9), meet: met[k]! };
  });
  return { worlds: worlds.length, choked, meet, lines };
}
