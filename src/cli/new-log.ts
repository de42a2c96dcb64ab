import { loadScenario } from '../scenario/load.ts';
import { posteriorOf } from '../trials/calibration/take-up.ts';
import { emptyLog } from '../trials/log/empty-log.ts';
import { expectedReadings } from '../trials/readings.ts';

/** Text of an empty log: for a scenario one line at its own settings, with what is foretold there; without one none. */
export async function newLog(file: string | undefined): Promise<string> {
  if (file === undefined) return emptyLog([]);
  const scenario = await loadScenario(file);
  const readings = expectedReadings(scenario, posteriorOf(scenario));
  return emptyLog([{ name: '1', scenario, readings }]);
}
