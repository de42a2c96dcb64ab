import { toCase } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber, toShown } from '../../scenario/units/display.ts';
import type { Readings } from '../readings.ts';
import { COLUMNS, FORETOLD, type ForetoldReading, foretoldColumn, READING_COLUMNS } from './columns.ts';
import { foretoldCell } from './foretold-cell.ts';

/** A run that is planned: its name, the scenario at its settings, and the readings foretold. */
export interface PlannedLine {
  readonly name: string;
  readonly scenario: Scenario;
  readonly readings: Readings;
}

/** Columns left out of an empty log: for motors read in amps, files of several samples, and files that leave much open. */
const SELDOM: readonly string[] = [
  'current',
  'idleCurrent',
  'sample',
  ...READING_COLUMNS.map(({ name }) => name),
];
/** Units an empty log has its settings in. */
export const SETTING_UNITS: Readonly<Record<string, string>> = {
  rotorSpeed: 'rpm',
  wheelSpeed: 'rpm',
  feedRate: 'kg/h',
};

/**
 * An empty trial log as CSV: the columns, one line of units, and a line a planned run with its settings and the readings
 * foretold for it; what is measured is left to be filled in.
 *
 * @example emptyLog([]).split('\n')[0].startsWith('trial,rotorSpeed') // true
 */
export function emptyLog(planned: readonly PlannedLine[]): string {
  const columns = COLUMNS.filter(({ name }) => !SELDOM.includes(name));
  const units = columns.map(({ name, shownIn }) => SETTING_UNITS[name] ?? shownIn ?? '');
  const lines = planned.map((line) => {
    const cells = filledIn(line);
    return columns.map(({ name }) => cells[name] ?? '').join(',');
  });
  return `${[columns.map(({ name }) => name).join(','), units.join(','), ...lines].join('\n')}\n`;
}

/** Cells of a planned run by column: its settings and the readings foretold. */
export function filledIn({ name, scenario, readings }: PlannedLine): Readonly<Record<string, string>> {
  const { settings } = toCase(scenario);
  const shown = (value: number, unit: string): string => formatNumber(toShown(value, unit), 5);
  const bands: Readonly<Record<ForetoldReading, Readings['power']>> = {
    power: readings.power,
    outletTemperature: readings.temperature,
    x50: readings.x50,
    x95: readings.x95,
  };
  return {
    trial: name,
    rotorSpeed: shown(settings.rotorSpeed, 'rpm'),
    wheel: scenario.settings.wheel,
    wheelSpeed: shown(settings.wheelSpeed, 'rpm'),
    feedRate: shown(settings.feedRate, 'kg/h'),
    airFlow: shown(scenario.air.flow, 'm^3/h'),
    ...Object.fromEntries(
      FORETOLD.map((one) => [foretoldColumn(one.name), foretoldCell(bands[one.name], one.shownIn)]),
    ),
  };
}
