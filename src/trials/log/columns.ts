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

/** A reading that is foretold for a planned run, as the log keeps it; SI unit and the unit of its column. */
export const FORETOLD = [
  { name: 'power', unit: 'W', shownIn: 'kW', meaning: 'rotor power' },
  { name: 'outletTemperature', unit: 'K', shownIn: 'degC', meaning: 'outlet temperature' },
  { name: 'x50', unit: 'm', shownIn: 'um', meaning: 'x50 of the product' },
  { name: 'x95', unit: 'm', shownIn: 'um', meaning: 'x95 of the product' },
] as const;

export type ForetoldReading = (typeof FORETOLD)[number]['name'];

/** Heading of a reading foretold: `foretoldPower`. */
export function foretoldColumn(name: ForetoldReading): string {
  return `foretold${name[0]!.toUpperCase()}${name.slice(1)}`;
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

/** Columns that state of a row's size files what they leave open, beside method, unit and basis. */
export const READING_COLUMNS = [
  { name: 'sizeKind', option: 'kind', meaning: 'what the values of the size file are' },
  { name: 'sizeValues', option: 'values', meaning: 'whether the size file counts in percent or fractions' },
  { name: 'sizePlace', option: 'sizes', meaning: 'where in its class a size of the size file lies' },
  { name: 'sizeDecimal', option: 'decimal', meaning: 'decimal sign of the size file' },
  { name: 'sizeSeparator', option: 'separator', meaning: 'separator of the size file' },
  { name: 'sizeEncoding', option: 'encoding', meaning: 'encoding of the size file' },
  { name: 'sizeSeries', option: 'series', meaning: 'sieve series of the size file' },
  { name: 'sizeMissing', option: 'missing', meaning: 'where mass lies that the size file does not show' },
] as const;

/** Column of a log that states an option of reading a size file; undefined where none does. */
export function columnStating(option: string): string | undefined {
  if (['method', 'unit', 'basis'].includes(option)) return option;
  return READING_COLUMNS.find((each) => each.option === option)?.name;
}

/** Every column a trial log may have; one row a run. */
export const COLUMNS: readonly Column[] = [
  text('trial', 'name of the run', ['run', 'name', 'no', 'nr', 'versuch', 'versuchsnr', 'lauf']),
  setting('rotorSpeed', 'rotor speed: rpm, m/s of the tip, or Hz or % of its drive', [
    'rotor',
    'millspeed',
    'rotordrehzahl',
    'muehlendrehzahl',
    'rotorgeschwindigkeit',
    'umfangsgeschwindigkeit',
  ]),
  text('wheel', 'wheel of the machine', ['wheelname', 'sichterrad', 'sichtrad', 'rad', 'classifierwheel']),
  setting('wheelSpeed', 'wheel speed: rpm, m/s of the rim, or Hz or % of its drive', [
    'sichterdrehzahl',
    'sichterraddrehzahl',
    'raddrehzahl',
    'classifierspeed',
  ]),
  setting('feedRate', 'feed rate', [
    'throughput',
    'rate',
    'durchsatz',
    'aufgaberate',
    'dosierleistung',
    'massenstrom',
  ]),
  number('airFlow', 'm^3/s', 'm^3/h', 'air flow at the inlet', [
    'air',
    'luftmenge',
    'luftstrom',
    'volumenstrom',
    'luftvolumenstrom',
  ]),
  number('inletTemperature', 'K', 'degC', 'temperature of the inlet air', [
    'airtemperature',
    'zulufttemperatur',
    'eintrittstemperatur',
    'lufttemperatur',
  ]),
  number('power', 'W', 'kW', 'rotor power under load', [
    'millpower',
    'rotorpower',
    'motorpower',
    'leistung',
    'motorleistung',
    'rotorleistung',
    'wirkleistung',
  ]),
  number('current', 'A', 'A', 'motor current of the rotor under load', [
    'amps',
    'millcurrent',
    'motorcurrent',
    'strom',
    'motorstrom',
  ]),
  number('idlePower', 'W', 'kW', 'rotor power at this speed and air flow without feed', [
    'powerempty',
    'emptypower',
    'leerlaufleistung',
  ]),
  number('idleCurrent', 'A', 'A', 'motor current at this speed and air flow without feed', [
    'idleamps',
    'leerlaufstrom',
  ]),
  number('outletTemperature', 'K', 'degC', 'temperature of air and product at the outlet', [
    'outlet',
    'austrittstemperatur',
    'auslasstemperatur',
    'ablufttemperatur',
  ]),
  // a milligram: less is a slip, and all other masses are held against it
  {
    ...number('feed', 'kg', 'kg', 'mass fed', ['feedmass', 'massfed', 'aufgabe', 'aufgabemenge', 'einwaage']),
    within: { minimum: 1e-6, maximum: 1e7 },
  },
  number('product', 'kg', 'kg', 'product collected', [
    'productmass',
    'cyclone',
    'produkt',
    'produktmenge',
    'feingut',
  ]),
  number('filter', 'kg', 'kg', 'dust collected in the filter', [
    'filtermass',
    'filterdust',
    'filterstaub',
    'filtermenge',
  ]),
  number('minutes', 's', 'min', 'duration of feeding', [
    'duration',
    'time',
    'feedingtime',
    'dauer',
    'zeit',
    'minuten',
    'versuchsdauer',
    'laufzeit',
  ]),
  text('sizes', 'file of the product’s size measurement; several are repeats', [
    'sizefile',
    'psd',
    'file',
    'datei',
    'messdatei',
    'groessendatei',
    'korngroessendatei',
  ]),
  text('sample', 'sample in the size file, where it holds several', ['samplename', 'probe', 'probenname']),
  text('method', 'how the sizes were measured: laser or sieve', ['sizemethod', 'messverfahren', 'methode']),
  text('unit', 'unit of the sizes in the file: nm, um, mm, m or mesh', [
    'sizeunit',
    'einheit',
    'groesseneinheit',
  ]),
  text('basis', 'what the file counts: volume, mass or number', ['sizebasis', 'mengenart']),
  ...READING_COLUMNS.map(({ name, meaning }) => text(name, meaning)),
  text('remarks', 'anything worth knowing', [
    'remark',
    'note',
    'notes',
    'comment',
    'bemerkung',
    'bemerkungen',
    'anmerkung',
  ]),
  ...FORETOLD.map(({ name, unit, shownIn, meaning }) => ({
    name: foretoldColumn(name),
    kind: 'text' as const,
    unit,
    shownIn,
    meaning: `${meaning} predicted before the run, with its 95 % band: 18.2 (15.1..21.6)`,
  })),
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
  const unit = (match[2] ?? match[3] ?? match[4] ?? '').trim();
  const word = plain(match[1]!);
  // a mass fed per time is a rate, whatever it is called
  const whole = BY_HEADING.get(word === 'aufgabe' && unit.includes('/') ? 'feedrate' : word);
  return { ...(whole ? { column: whole } : {}), unit };
}

const SPELT: Readonly<Record<string, string>> = { ä: 'ae', ö: 'oe', ü: 'ue', ß: 'ss' };

function plain(words: string): string {
  return words
    .toLowerCase()
    .replace(/[äöü]|ß/g, (letter) => SPELT[letter]!)
    .replace(/[^a-z0-9]/g, '');
}
