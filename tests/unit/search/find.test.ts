import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { loadScenario } from '../../../src/scenario/load.ts';
import { toCase } from '../../../src/scenario/operating-point.ts';
import { outcomeOf } from '../../../src/scenario/outcome/outcome.ts';
import { solvePoint } from '../../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { toShown } from '../../../src/scenario/units/display.ts';
import { capacityOf } from '../../../src/search/find/capacity.ts';
import { type Found, findSettings } from '../../../src/search/find/find.ts';
import { optimise } from '../../../src/search/find/optimise.ts';
import { type SearchSpace, searchSpace } from '../../../src/search/find/space.ts';
import { close } from '../../close.ts';
import { BRUTE_CASES, bruteForce } from '../../reference/brute-force.ts';

const scenarios = resolve(import.meta.dirname, '../../../scenarios');
const load = (name: string, set: readonly string[] = []): Promise<Scenario> =>
  loadScenario(resolve(scenarios, `${name}.yaml`), { set });

function spaceOf(scenario: Scenario): SearchSpace {
  const space = searchSpace(scenario);
  if (typeof space === 'string') throw new Error(space);
  return space;
}

/** Typed back through `--set`, as a reader of the answer would. */
async function confirmed(name: string, set: readonly string[], found: Found) {
  const typed = found.best.settings.map(({ path, value, shownIn }) =>
    typeof value === 'string'
      ? `${path}=${value}`
      : `${path}=${Number(toShown(value, shownIn).toPrecision(9))} ${shownIn}`,
  );
  const scenario = await load(name, [...set, ...typed]);
  return outcomeOf(scenario, solvePoint(toCase(scenario)));
}

describe('settings found', () => {
  test.each(BRUTE_CASES)(
    '%s: as good as brute force over %d steps a side, and run confirms them',
    async (name, steps, set) => {
      const scenario = await load(name, set);
      const space = spaceOf(scenario);
      const brute = bruteForce(scenario, space, steps);
      const found = findSettings(scenario, space);
      expect(brute.violation).toBe(0);
      expect(found.meets).toBe(true);
      // within what rounding to panel numbers may cost
      expect(found.best.merit.goal).toBeGreaterThan(brute.goal - 4e-3 * Math.abs(brute.goal));
      expect(found.best.limits.length).toBeGreaterThan(0);
      const outcome = await confirmed(name, set, found);
      expect(outcome.spec.every(({ met }) => met)).toBe(true);
      expect(outcome.warnings.filter(({ code }) => /overload|overspeed/.test(code))).toEqual([]);
    },
  );

  test('where nothing meets the spec, the nearest miss is no worse than that of a grid', async () => {
    const set = ['spec=["passing(20 um) >= 99 %", "motorLoad <= 20 %"]'];
    const scenario = await load('mineral-filler', set);
    const space = spaceOf(scenario);
    const found = findSettings(scenario, space);
    expect(found.meets).toBe(false);
    expect(found.best.merit.violation).toBeLessThan(bruteForce(scenario, space, 11).violation * (1 + 1e-3));
    expect((await confirmed('mineral-filler', set, found)).spec.every(({ met }) => met)).toBe(false);
  });

  test('without a sweep the machine’s ranges and wheels are searched; capacity is no less than the goal’s feed rate', async () => {
    const loaded = await load('mineral-filler', ['goal=minimise specificEnergy']);
    const { sweep: _sweep, ...rest } = loaded;
    const space = spaceOf(rest as Scenario);
    expect(space.choices.length).toBe(Object.keys(loaded.machine.wheels).length);
    const found = findSettings(rest as Scenario, space, {
      effort: { points: 128, population: 24, generations: 30, starts: 1 },
    });
    const most = capacityOf(rest as Scenario, space, found)!;
    expect(most.scenario.settings.feedRate).toBeGreaterThanOrEqual(
      found.best.scenario.settings.feedRate * 0.996,
    );
  });

  test('a reserve is kept inside the limit', async () => {
    const scenario = await load('mineral-filler');
    const space = spaceOf(scenario);
    const found = findSettings(scenario, space, { reserves: [0.01, 0, 0] });
    expect(found.meets).toBe(true);
    expect(found.best.outcome.spec[0]!.margin).toBeGreaterThanOrEqual(1 - 1e-9);
  });
});

describe('optimiser', () => {
  test('finds the corner of a curved feasible region (derived: x = y = 1/√2 on the unit circle)', () => {
    const best = optimise(
      2,
      ([x, y]) => ({ goal: x! + y!, violation: Math.max(0, x! ** 2 + y! ** 2 - 1) }),
      3,
    );
    close(best.merit.goal, Math.SQRT2, 1e-5);
    expect(best.merit.violation).toBe(0);
  });

  test('leaves a local optimum for the global one (Schwefel’s function, minimum at 420.968746 in each, recalled)', () => {
    const best = optimise(
      2,
      (at) => ({
        goal: at.reduce(
          (sum, u) => sum + (1000 * u - 500) * Math.sin(Math.sqrt(Math.abs(1000 * u - 500))),
          0,
        ),
        violation: 0,
      }),
      1,
    );
    for (const u of best.at) close(1000 * u - 500, 420.968746, 1e-5);
  });
});
