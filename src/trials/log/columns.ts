import type { Parameter } from '../../model/parameters.ts';

/** What a column of a trial log holds: how its text is read, and the unit a bare number in it counts as. */
export interface Column {
  readonly name: string;
  readonly kind: 'text' | 'setting' | 'number';
  /** SI unit and the unit of habit. */
  readonly unit?: string;
  readonly shownIn?: string;
  readonly meaning: string;
  /** What a number of it must be, SI. */
  readonly within?: Pick<Parameter, 'minimum' | 'exclusiveMinimum' | 'maximum'>;
  /** Other headings that mean the same, in lower case without blanks and signs. */
  readonly also?: readonly string[];
}

/** Far beyond what any mill of a test centre or a plant shows, so that a slip of unit or sign is found. */
const WITHIN: Readonly<Record<string, Pick<Parameter, 'minimum' | 'exclusiveMinimum' | 'maximum'>>> = {
  'm^3/s': { exclusiveMinimum: 0, maximum: 300 },
  K: { minimum: 223.15, maximum: 573.15 },
  W: { minimum: 0, maximum: 1e8 },
  A: { minimum: 0, maximum: 1e5 },
  kg: { minimum: 0, maximum: 1e7 },
  s: { exclusiveMinimum: 0, maximum: 1e7 },
};

const number = (
  name: string,
  unit: string,
  shownIn: string,
  meaning: string,
  also: readonly string[] = [],
): Column => ({
  name,
  kind: 'number',
  unit,
  shownIn,
  meaning,
  within: WITHIN[unit]!,
  also,
});
const text = (name: string, meaning: string, also: readonly string[] = []): Column => ({
  name,
  kind: 'text',
  meaning,
  also,
});
const setting = (name: string, meaning: string, also: readonly string[] = []): Column => ({
  name,
  kind: 'setting',
  meaning,
  also,
});

/** Every column a trial log may have; one row a run. */
export const COLUMNS: readonly Column[] = [
  text('trial', 'name of the run', ['run', 'name', 'no', 'nr']),
  setting('rotorSpeed', 'rotor speed: rpm, m/s of the tip, or Hz or % of its drive', ['rotor', 'millspeed']),
  text('wheel', 'wheel of the machine', ['wheelname']),
  setting('wheelSpeed', 'wheel speed: rpm, m/s of the rim, or Hz or % of its drive'),
  setting('feedRate', 'feed rate', ['throughput', 'rate']),
  number('airFlow', 'm^3/s', 'm^3/h', 'air flow at the inlet', ['air']),
  number('inletTemperature', 'K', 'degC', 'temperature of the inlet air', ['airtemperature']),
  number('power', 'W', 'kW', 'rotor power under load', ['millpower', 'rotorpower']),
  number('current', 'A', 'A', 'motor current of the rotor under load', [
    'amps',
    'millcurrent',
    'motorcurrent',
  ]),
  number('idlePower', 'W', 'kW', 'rotor power at this speed and air flow without feed', [
    'powerempty',
    'emptypower',
  ]),
  number('idleCurrent', 'A', 'A', 'motor current at this speed and air flow without feed', ['idleamps']),
  number('outletTemperature', 'K', 'degC', 'temperature of air and product at the outlet', ['outlet']),
  // a milligram: less is a slip, and all other masses are held against it
  {
    ...number('feed', 'kg', 'kg', 'mass fed', ['feedmass', 'massfed']),
    within: { minimum: 1e-6, maximum: 1e7 },
  },
  number('product', 'kg', 'kg', 'product collected', ['productmass', 'cyclone']),
  number('filter', 'kg', 'kg', 'dust collected in the filter', ['filtermass', 'filterdust']),
  number('minutes', 's', 'min', 'duration of feeding', ['duration', 'time', 'feedingtime']),
  text('sizes', 'file of the product’s size measurement; several are repeats', ['sizefile', 'psd', 'file']),
  text('sample', 'sample in the size file, where it holds several', ['samplename']),
  text('remarks', 'anything worth knowing', ['remark', 'note', 'notes', 'comment']),
];

const BY_HEADING: ReadonlyMap<string, Column> = new Map(
  COLUMNS.flatMap((column) =>
    [column.name, ...(column.also ?? [])].map((name) => [plain(name), column] as const),
  ),
);

/** A heading as typed: its column and its unit, e.g. `wheel speed [Hz]`. */
export interface LogHeading {
  readonly column?: Column;
  readonly unit: string;
}

/**
 * Reads a heading of a trial log.
 *
 * @example readLogHeading('Wheel speed [Hz]').unit // 'Hz'
 */
export function readLogHeading(heading: string): LogHeading {
  const match = /^(.*?)\s*(?:\[(.*?)\]|\((.*?)\)|,\s*(\S+))?\s*$/s.exec(heading.trim())!;
  const whole = BY_HEADING.get(plain(match[1]!));
  const unit = (match[2] ?? match[3] ?? match[4] ?? '').trim();
  return { ...(whole ? { column: whole } : {}), unit };
}

function plain(words: string): string {
  return words.toLowerCase().replace(/[^a-z0-9]/g, '');
}
