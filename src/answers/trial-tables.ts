import { percentileOf } from '../scenario/measurement/measured-curve.ts';
import { toCase } from '../scenario/operating-point.ts';
import { formatNumber, toShown } from '../scenario/units/display.ts';
import type { LoggedTrial } from '../trials/log/logged.ts';
import type { Table } from './table.ts';
import { label, words } from './text.ts';

const NONE = '–';
const LONGEST_NAME = 24;
const LONGEST_FLAG = 240;

function shown(value: number | undefined, unit: string, digits = 3): string {
  return value === undefined || !Number.isFinite(value) ? NONE : formatNumber(toShown(value, unit), digits);
}

const nameOf = ({ name }: LoggedTrial): string => label(name, LONGEST_NAME);

/** Settings and readings, run by run. */
export function runTable(trials: readonly LoggedTrial[]): Table {
  const heads = [
    'run',
    'wheel',
    'wheel, rpm',
    'rotor, rpm',
    'feed, kg/h',
    'minutes',
    'x10, µm',
    'x50, µm',
    'x90, µm',
    'x95, µm',
    'power, kW',
    'empty, kW',
    'outlet, °C',
  ];
  const rows = trials.map((trial) => {
    const { settings } = toCase(trial.scenario);
    const size = (share: number) => shown(trial.sizes && percentileOf(trial.sizes, share), 'um');
    return [
      nameOf(trial),
      label(trial.scenario.settings.wheel),
      shown(settings.wheelSpeed, 'rpm', 4),
      shown(settings.rotorSpeed, 'rpm', 4),
      shown(settings.feedRate, 'kg/h'),
      shown(trial.duration, 'min'),
      ...[0.1, 0.5, 0.9, 0.95].map(size),
      shown(trial.power?.value, 'kW'),
      shown(trial.idlePower, 'kW'),
      shown(trial.outletTemperature, 'degC'),
    ];
  });
  return { heads, rows };
}

/** What went in and what came out, and the masses made to agree. */
export function balanceTable(trials: readonly LoggedTrial[]): Table {
  const heads = [
    'run',
    'fed, kg',
    'product, kg',
    'filter, kg',
    'gap, %',
    'fed, reconciled, kg',
    'product, reconciled, kg',
    'filter, reconciled, kg',
    'closes',
  ];
  const rows = trials.flatMap((trial) => {
    const { feed, closure } = trial;
    if (!closure || feed === undefined) return [];
    const collected = feed * (1 + closure.gap);
    const filter = closure.filterShare * collected;
    const suspect = closure.suspect ? `no; suspect ${closure.suspect}` : 'no';
    return [
      [
        nameOf(trial),
        shown(feed, 'kg', 4),
        shown(collected - filter, 'kg', 4),
        shown(filter, 'kg'),
        shown(closure.gap, '%', 2),
        ...closure.reconciled.map((mass) => shown(mass, 'kg', 4)),
        closure.closes ? 'yes' : suspect,
      ],
    ];
  });
  return { heads, rows };
}

/** Measured power over the feed rate: all of it, and what is left without the empty mill. */
export function energyTable(trials: readonly LoggedTrial[]): Table {
  const heads = ['run', 'power, kW', 'of it empty, kW', 'energy, kWh/t', 'grinding alone, kWh/t', 'how read'];
  const rows = trials.flatMap((trial) => {
    const { power, idlePower } = trial;
    if (!power) return [];
    const { feedRate } = toCase(trial.scenario).settings;
    const grinding = idlePower === undefined ? undefined : (power.value - idlePower) / feedRate;
    return [
      [
        nameOf(trial),
        shown(power.value, 'kW'),
        shown(idlePower, 'kW'),
        shown(power.value / feedRate, 'kWh/t'),
        shown(grinding, 'kWh/t'),
        `${words(trial.powerFrom ?? 'as logged', 60)}, ± ${formatNumber(100 * power.error, 2)} %`,
      ],
    ];
  });
  return { heads, rows };
}

/** What a reader should know of single runs. */
export function flagsOf(trials: readonly LoggedTrial[]): string[] {
  return trials.flatMap((trial) =>
    trial.flags.map((flag) => `${nameOf(trial)}: ${words(flag, LONGEST_FLAG)}`),
  );
}

/**
 * Remarks written down beside the runs: the columns of the log that no fit makes use of.
 *
 * @param left headings that are not shown
 */
export function remarksOf(
  trials: readonly LoggedTrial[],
  left: (heading: string) => boolean = () => false,
): string[] {
  return trials.flatMap((trial) => {
    const said = Object.entries(trial.remarks).flatMap(([heading, text]) =>
      text.trim() === '' || left(heading)
        ? []
        : [
            heading === 'remarks'
              ? words(text, LONGEST_FLAG)
              : `${words(heading, 40)} ${words(text, LONGEST_FLAG)}`,
          ],
    );
    return said.length > 0 ? [`${nameOf(trial)}: ${said.join('; ')}`] : [];
  });
}
