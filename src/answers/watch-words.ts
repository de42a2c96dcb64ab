import type { Scenario } from '../scenario/scenario.ts';
import { formatQuantity } from '../scenario/units/display.ts';
import { stopLimits } from '../search/next/stop-limits.ts';
import { stopWords } from './next/run-sheet.ts';

/** What to watch at the mill with these settings, each limit as a number: motor, outlet, air, highest speeds. */
export function watchWords(scenario: Scenario): string {
  const { machine, settings } = scenario;
  const wheel = machine.wheels[settings.wheel]!;
  const top = (speed: number) => formatQuantity(speed, 'rpm', 4);
  return `At the mill, stop the run ${stopWords(stopLimits(scenario))}. Highest speeds: rotor ${top(machine.rotor.maxSpeed)}, wheel ${top(wheel.maxSpeed)}.`;
}
