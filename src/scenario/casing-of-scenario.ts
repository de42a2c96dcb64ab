import type { Case } from '../model/case.ts';
import { type Casing, casingOf, thermometerAt } from '../model/time/casing.ts';
import { toCase } from './operating-point.ts';
import type { Scenario } from './scenario.ts';

/** The casing of a scenario's mill: what its `time:` block states, the rest assumed from the size of the mill. */
export function casingOfScenario({ blocks }: Scenario, c: Case): Casing {
  const { casingExchange, casingHeat } = (blocks.time ?? {}) as Record<string, number | undefined>;
  return casingOf(c, {
    ...(casingExchange === undefined ? {} : { exchange: casingExchange }),
    ...(casingHeat === undefined ? {} : { heatCapacity: casingHeat }),
  });
}

/**
 * What a thermometer in the outlet shows of a steady outlet temperature some time into a run from cold.
 *
 * @param scenario at the settings of the run
 * @param steady outlet temperature at rest [K]
 * @param time since the start [s]
 * @returns [K]
 */
export function shownAfter(scenario: Scenario, steady: number, time: number): number {
  const c = toCase(scenario);
  return thermometerAt(c, steady, time, casingOfScenario(scenario, c));
}
