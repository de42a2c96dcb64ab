import type { Scenario } from '../scenario/scenario.ts';
import { formatQuantity } from '../scenario/units/display.ts';
import { type StopLimits, stopLimits } from '../search/next/stop-limits.ts';

/** Numeric limits as a clause: `at 13.5 kW, 50 °C, or below 1350 m³/h`. */
export function stopWords({ power, temperature, airFlow }: StopLimits): string {
  const upper = [
    formatQuantity(power, 'kW', 3),
    ...(temperature === undefined ? [] : [`${formatQuantity(temperature, 'degC', 3)} at the outlet`]),
  ];
  return `when it reaches ${upper.join(' or ')}, when the air flow falls below ${formatQuantity(airFlow, 'm^3/h', 3)}`;
}

/** What to watch at the mill with these settings, each limit as a number: motor, outlet, air, highest speeds. */
export function watchWords(scenario: Scenario): string {
  const { machine, settings } = scenario;
  const wheel = machine.wheels[settings.wheel]!;
  const top = (speed: number) => formatQuantity(speed, 'rpm', 4);
  return `At the mill, stop the run ${stopWords(stopLimits(scenario))}. Highest speeds: rotor ${top(machine.rotor.maxSpeed)}, wheel ${top(wheel.maxSpeed)}.`;
}
