import type { Scenario } from '../../src/scenario/scenario.ts';
import { isBetter, judgeOf, type Merit } from '../../src/search/find/objective.ts';
import { coordinateOf, type SearchSpace } from '../../src/search/find/space.ts';

/** Scenario, grid steps a side, and what is set: demos whose spec binds. */
export const BRUTE_CASES: readonly (readonly [name: string, steps: number, set: readonly string[]])[] = [
  [
    'erythritol',
    13,
    ['spec=["passing(75 um) >= 99 %", "x50 >= 14 um", "outletTemperature <= 42 degC", "motorLoad <= 80 %"]'],
  ],
  ['mineral-filler', 21, []],
  [
    'mineral-filler',
    21,
    [
      'goal=minimise specificEnergy',
      'spec=["passing(63 um) >= 90 %", "feedRate >= 120 kg/h", "motorLoad <= 95 %"]',
    ],
  ],
];

/** Best point of a grid over the whole space. */
export function bruteForce(scenario: Scenario, space: SearchSpace, steps: number): Merit {
  const { goal, spec } = scenario;
  const judge = judgeOf(scenario, space.factors, { spec, ...(goal ? { goal } : {}) });
  let best: Merit = { goal: Number.NaN, violation: Number.POSITIVE_INFINITY };
  for (const choice of space.choices) {
    for (let point = 0; point < steps ** space.numbers.length; point++) {
      const at = Float64Array.from(choice);
      let rest = point;
      for (const j of space.numbers) {
        at[j] = coordinateOf(space.factors[j]!, (rest % steps) / (steps - 1));
        rest = Math.floor(rest / steps);
      }
      const merit = judge(at);
      if (isBetter(merit, best)) best = merit;
    }
  }
  return best;
}
