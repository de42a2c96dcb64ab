/** A unit as people see it: SI value = shown value · factor + offset. */
interface ShownUnit {
  /** SI unit the model computes in. */
  readonly si: string;
  readonly factor: number;
  readonly offset?: number;
  /** Text on axes and in tables; the key where absent. */
  readonly label?: string;
}

const MINUTE = 60;
const HOUR = 3600;
const DEGREE = Math.PI / 180;
const INCH = 0.0254;
const POUND = 0.45359237;

/** Every unit the program shows. Conversions of typed text are in `parse.ts`; a test holds the two together. */
const UNITS: Readonly<Record<string, ShownUnit>> = {
  '1': { si: '1', factor: 1, label: '' },
  '%': { si: '1', factor: 0.01 },
  ppm: { si: '1', factor: 1e-6 },
  'kg/kg': { si: '1', factor: 1 },
  'g/kg': { si: '1', factor: 1e-3 },
  m: { si: 'm', factor: 1 },
  cm: { si: 'm', factor: 0.01 },
  mm: { si: 'm', factor: 1e-3 },
  um: { si: 'm', factor: 1e-6, label: 'µm' },
  nm: { si: 'm', factor: 1e-9 },
  inch: { si: 'm', factor: INCH, label: 'in' },
  ft: { si: 'm', factor: 12 * INCH },
  'm^2': { si: 'm^2', factor: 1, label: 'm²' },
  'm^2/kg': { si: 'm^2/kg', factor: 1, label: 'm²/kg' },
  'm^2/g': { si: 'm^2/kg', factor: 1e3, label: 'm²/g' },
  'cm^2/g': { si: 'm^2/kg', factor: 0.1, label: 'cm²/g' },
  'm^3': { si: 'm^3', factor: 1, label: 'm³' },
  L: { si: 'm^3', factor: 1e-3 },
  'm^3/s': { si: 'm^3/s', factor: 1, label: 'm³/s' },
  'm^3/min': { si: 'm^3/s', factor: 1 / MINUTE, label: 'm³/min' },
  'm^3/h': { si: 'm^3/s', factor: 1 / HOUR, label: 'm³/h' },
  cfm: { si: 'm^3/s', factor: (12 * INCH) ** 3 / MINUTE },
  'm/s': { si: 'm/s', factor: 1 },
  'm/min': { si: 'm/s', factor: 1 / MINUTE },
  's/m': { si: 's/m', factor: 1 },
  rpm: { si: '1/s', factor: 1 / MINUTE },
  '1/min': { si: '1/s', factor: 1 / MINUTE },
  '1/h': { si: '1/s', factor: 1 / HOUR },
  '1/s': { si: '1/s', factor: 1 },
  Hz: { si: '1/s', factor: 1 },
  s: { si: 's', factor: 1 },
  ms: { si: 's', factor: 1e-3 },
  min: { si: 's', factor: MINUTE },
  h: { si: 's', factor: HOUR },
  kg: { si: 'kg', factor: 1 },
  g: { si: 'kg', factor: 1e-3 },
  t: { si: 'kg', factor: 1e3 },
  lb: { si: 'kg', factor: POUND },
  'kg/s': { si: 'kg/s', factor: 1 },
  'kg/min': { si: 'kg/s', factor: 1 / MINUTE },
  'kg/h': { si: 'kg/s', factor: 1 / HOUR },
  't/h': { si: 'kg/s', factor: 1e3 / HOUR },
  'g/s': { si: 'kg/s', factor: 1e-3 },
  'lb/h': { si: 'kg/s', factor: POUND / HOUR },
  'kg/m^3': { si: 'kg/m^3', factor: 1, label: 'kg/m³' },
  'g/cm^3': { si: 'kg/m^3', factor: 1e3, label: 'g/cm³' },
  'g/m^3': { si: 'kg/m^3', factor: 1e-3, label: 'g/m³' },
  'mg/m^3': { si: 'kg/m^3', factor: 1e-6, label: 'mg/m³' },
  W: { si: 'W', factor: 1 },
  kW: { si: 'W', factor: 1e3 },
  MW: { si: 'W', factor: 1e6 },
  J: { si: 'J', factor: 1 },
  mJ: { si: 'J', factor: 1e-3 },
  kJ: { si: 'J', factor: 1e3 },
  kWh: { si: 'J', factor: 1e3 * HOUR },
  'N m': { si: 'J', factor: 1 },
  'kg m^2': { si: 'kg m^2', factor: 1, label: 'kg m²' },
  'W/K': { si: 'W/K', factor: 1 },
  'J/K': { si: 'J/K', factor: 1 },
  'kJ/K': { si: 'J/K', factor: 1e3 },
  'J/kg': { si: 'J/kg', factor: 1 },
  'kJ/kg': { si: 'J/kg', factor: 1e3 },
  'kWh/t': { si: 'J/kg', factor: HOUR },
  'J/(kg K)': { si: 'J/(kg K)', factor: 1 },
  'kJ/(kg K)': { si: 'J/(kg K)', factor: 1e3 },
  'kg/(J m)': { si: 'kg/(J m)', factor: 1 },
  'J m/kg': { si: 'J m/kg', factor: 1, label: 'J m/kg' },
  K: { si: 'K', factor: 1 },
  degC: { si: 'K', factor: 1, offset: 273.15, label: '°C' },
  Pa: { si: 'Pa', factor: 1 },
  hPa: { si: 'Pa', factor: 100 },
  mbar: { si: 'Pa', factor: 100 },
  kPa: { si: 'Pa', factor: 1e3 },
  bar: { si: 'Pa', factor: 1e5 },
  'Pa s': { si: 'Pa s', factor: 1 },
  'Pa s/m': { si: 'Pa s/m', factor: 1 },
  'bar m/s': { si: 'Pa m/s', factor: 1e5 },
  'Pa m/s': { si: 'Pa m/s', factor: 1 },
  rad: { si: 'rad', factor: 1 },
  deg: { si: 'rad', factor: DEGREE, label: '°' },
  A: { si: 'A', factor: 1 },
  mA: { si: 'A', factor: 1e-3 },
  V: { si: 'V', factor: 1 },
};

function unitOf(unit: string): ShownUnit {
  if (!Object.hasOwn(UNITS, unit)) throw new RangeError(`no shown unit ${unit}`);
  return UNITS[unit]!;
}

/** Whether values can be shown in this unit. */
export function isShownUnit(unit: string): boolean {
  return Object.hasOwn(UNITS, unit);
}

/** Every unit values can be shown in. */
export function shownUnits(): readonly string[] {
  return Object.keys(UNITS);
}

/** SI unit a shown unit belongs to, e.g. `m` for `um`. */
export function siUnitOf(unit: string): string {
  return unitOf(unit).si;
}

/**
 * SI value → value in the unit people see.
 *
 * @example toShown(75e-6, 'um') // 75
 */
export function toShown(value: number, unit: string): number {
  const { factor, offset = 0 } = unitOf(unit);
  return divide(value - offset, factor);
}

/**
 * SI → the unit people see, the unit looked up once: for long columns. Same digits as `toShown`.
 *
 * @param of `value`, or `difference` for one without offset, as in `toShownDifference`
 * @example shownIn('um')(75e-6) // 75
 */
export function shownIn(unit: string, of: 'value' | 'difference' = 'value'): (value: number) => number {
  const { factor, offset = 0 } = unitOf(unit);
  const zero = of === 'value' ? offset : 0;
  const inverse = wholeInverse(factor);
  return inverse ? (value) => (value - zero) * inverse : (value) => (value - zero) / factor;
}

/**
 * SI difference → difference in the unit people see: no offset, so 16 K stays 16 °C.
 *
 * @example toShownDifference(16, 'degC') // 16
 */
export function toShownDifference(difference: number, unit: string): number {
  return divide(difference, unitOf(unit).factor);
}

/**
 * Value in the unit people see → SI.
 *
 * @example fromShown(20, 'degC') // 293.15
 */
export function fromShown(value: number, unit: string): number {
  const { factor, offset = 0 } = unitOf(unit);
  return times(value, factor) + offset;
}

/** Multiplying by 1e-6 leaves a last-digit error that dividing by the exact 1e6 does not. */
function times(value: number, factor: number): number {
  const inverse = wholeInverse(factor);
  return inverse ? value / inverse : value * factor;
}

function divide(value: number, factor: number): number {
  const inverse = wholeInverse(factor);
  return inverse ? value * inverse : value / factor;
}

function wholeInverse(factor: number): number | undefined {
  const inverse = Math.round(1 / factor);
  return factor < 1 && Math.abs(inverse * factor - 1) < 1e-15 ? inverse : undefined;
}

/** Unit as text on an axis or in a table head, e.g. `µm`; empty for a pure number. */
export function labelOf(unit: string): string {
  return unitOf(unit).label ?? unit;
}

/**
 * A number as people read it: significant digits, no needless zeros, a point for decimals.
 *
 * @example formatNumber(0.4166667) // '0.4167'
 */
export function formatNumber(value: number, digits = 4): string {
  if (Number.isNaN(value)) return '–';
  if (!Number.isFinite(value)) return value > 0 ? '∞' : '−∞';
  if (value === 0) return '0';
  const size = Math.abs(value);
  if (size >= 1e7 || size < 1e-4) return value.toExponential(digits - 1).replace(/\.?0+e/, 'e');
  const whole = Math.max(0, Math.floor(Math.log10(size)) + 1);
  const text = whole >= digits ? Math.round(value).toString() : value.toPrecision(digits);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/**
 * SI value with its unit, as people read it.
 *
 * @example formatQuantity(75e-6, 'um') // '75 µm'
 */
export function formatQuantity(value: number, unit: string, digits = 4): string {
  const text = formatNumber(toShown(value, unit), digits);
  const label = labelOf(unit);
  if (label === '') return text;
  return label === '°' ? `${text}°` : `${text} ${label}`;
}
