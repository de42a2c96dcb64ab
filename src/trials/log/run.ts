import { availablePower } from '../../model/rotor.ts';
import type { Fault } from '../../scenario/errors.ts';
import type { Averaged } from '../../scenario/measurement/replicates.ts';
import type { FactorValue } from '../../scenario/operating-point.ts';
import { toCase, withValues } from '../../scenario/operating-point.ts';
import { suggestion } from '../../scenario/read/did-you-mean.ts';
import { outOfRange } from '../../scenario/read/out-of-range.ts';
import { parseSetting } from '../../scenario/read/ranges.ts';
import { speedFault } from '../../scenario/read/speed-setting.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatQuantity } from '../../scenario/units/display.ts';
import { parseValue } from '../../scenario/units/parse-quantity.ts';
import { isProblem } from '../../scenario/units/unit-problem.ts';
import { type MotorCurrents, torqueFraction } from './amps.ts';
import { closureOf, type Masses, type WeighingErrors } from './balance.ts';
import { COLUMNS, FORETOLD, foretoldColumn } from './columns.ts';
import { readForetold } from './foretold-cell.ts';
import type { LoggedTrial } from './logged.ts';
import type { LogRow } from './rows.ts';

/** What the reading of every row needs. */
export interface RunContext {
  readonly scenario: Scenario;
  readonly motor?: MotorCurrents;
  readonly weighing: WeighingErrors;
  /** Relative error of a measured kW. */
  readonly powerError: number;
  readonly faults: Fault[];
}

const SETTINGS = ['rotorSpeed', 'wheelSpeed', 'feedRate'] as const;
/** Feed rate written down against feed over minutes, and filter dust, beyond which a run is flagged (`assumed`). */
const RATE_LIMIT = 0.1;
const FILTER_LIMIT = 0.03;

/** One row of the log as a trial; what is wrong with it goes to `context.faults`. */
export function runOf(
  context: RunContext,
  row: LogRow,
  index: number,
  sizes: Averaged | undefined,
): LoggedTrial {
  const numbers = numbersOf(context, row);
  const duration = numbers.minutes;
  const { scenario, rate } = atSettings(context, row, numbers);
  const flags: string[] = [];
  const power = powerOf(context, scenario, numbers, row, flags);
  const closure = closureAt(context, numbers, rate);
  if (closure && !closure.closes)
    flags.push(
      `masses do not close: ${(100 * closure.gap).toFixed(1)} % (probability ${closure.probability.toPrecision(2)}), check ${closure.suspect}`,
    );
  if (closure && closure.filterShare > FILTER_LIMIT)
    flags.push(
      `${(100 * closure.filterShare).toFixed(1)} % of the product went to the filter and is not in its size curve`,
    );
  if (numbers.feed && duration && rate && Math.abs(numbers.feed / duration / rate - 1) > RATE_LIMIT)
    flags.push(
      `feed over minutes gives ${formatQuantity(numbers.feed / duration, 'kg/h')}, the log says ${formatQuantity(rate, 'kg/h')}`,
    );
  flags.push(...slips(context, row, numbers, scenario, rate));
  if (sizes && !sizes.sample.method)
    flags.push(
      'the size file does not say how it was measured: taken as laser diffraction; state it in the column method',
    );
  if (!sizes && !power) flags.push('neither sizes nor power measured: ignored by the fit');
  return {
    name: row.cells.trial ?? `${index + 1}`,
    place: row.place,
    scenario,
    ...(sizes ? { sizes: sizes.sample, repeats: sizes.repeats } : {}),
    ...(power ?? {}),
    ...(numbers.outletTemperature === undefined ? {} : { outletTemperature: numbers.outletTemperature }),
    ...(closure ? { closure } : {}),
    ...(numbers.feed === undefined ? {} : { feed: numbers.feed }),
    ...(duration === undefined ? {} : { duration }),
    foretold: foretoldOf(row),
    remarks: { ...(row.cells.remarks === undefined ? {} : { remarks: row.cells.remarks }), ...row.others },
    flags,
  };
}

function foretoldOf({ cells }: LogRow): LoggedTrial['foretold'] {
  const bands = FORETOLD.flatMap(({ name, unit, shownIn }) => {
    const band = readForetold(cells[foretoldColumn(name)] ?? '', unit, shownIn);
    return band ? [[name, band] as const] : [];
  });
  return Object.fromEntries(bands);
}

/** Beyond these a number has a digit too many or too few, or the wrong unit (`assumed`); such a run is flagged. */
const SLIP = { power: 1.5, idle: 0.005, air: 3, rate: 8, rotor: 0.2, wheel: 0.04, cooled: 5 } as const;

/** Numbers of a row that are far from what the machine is or the scenario says, in words. */
function slips(
  { scenario }: RunContext,
  { cells }: LogRow,
  numbers: Numbers,
  at: Scenario,
  rate: number | undefined,
): string[] {
  const found: string[] = [];
  const { rotor, wheels } = scenario.machine;
  const { power, airFlow, outletTemperature } = numbers;
  const motor = formatQuantity(rotor.motor.power, 'kW');
  if (power !== undefined && power > SLIP.power * rotor.motor.power)
    found.push(
      `power ${formatQuantity(power, 'kW')} is far above the motor’s ${motor}: check the unit and the decimal sign`,
    );
  if (power !== undefined && power > 0 && power < SLIP.idle * rotor.motor.power)
    found.push(
      `power ${formatQuantity(power, 'kW')} is hardly any of the motor’s ${motor}: check the unit and the decimal sign`,
    );
  const apart = (a: number, b: number): number => Math.max(a / b, b / a);
  if (airFlow !== undefined && apart(airFlow, scenario.air.flow) > SLIP.air)
    found.push(
      `air flow ${formatQuantity(airFlow, 'm^3/h')} is far from the ${formatQuantity(scenario.air.flow, 'm^3/h')} of the scenario: check the unit and the decimal sign`,
    );
  if (rate !== undefined && apart(rate, scenario.settings.feedRate) > SLIP.rate)
    found.push(
      `feed rate ${formatQuantity(rate, 'kg/h')} is far from the ${formatQuantity(scenario.settings.feedRate, 'kg/h')} of the scenario: check the unit and the decimal sign`,
    );
  const c = toCase(at);
  if (cells.rotorSpeed !== undefined && c.settings.rotorSpeed < SLIP.rotor * rotor.maxSpeed)
    found.push(
      `rotor speed ${formatQuantity(c.settings.rotorSpeed, 'rpm')} is below ${100 * SLIP.rotor} % of its highest: is a digit missing?`,
    );
  const wheel = wheels[at.settings.wheel];
  if (cells.wheelSpeed !== undefined && wheel && c.settings.wheelSpeed < SLIP.wheel * wheel.maxSpeed)
    found.push(
      `wheel speed ${formatQuantity(c.settings.wheelSpeed, 'rpm')} is below ${100 * SLIP.wheel} % of its highest: is a digit missing?`,
    );
  if (outletTemperature !== undefined && outletTemperature < at.air.temperature - SLIP.cooled)
    found.push(
      `outlet ${formatQuantity(outletTemperature, 'degC')} is colder than the inlet air of ${formatQuantity(at.air.temperature, 'degC')}: check the unit and the decimal sign`,
    );
  return found;
}

type Numbers = Partial<Record<string, number>>;

function numbersOf({ faults }: RunContext, { cells, place }: LogRow): Numbers {
  const numbers: Record<string, number> = {};
  for (const { name, kind, unit, shownIn, meaning, within } of COLUMNS) {
    const cell = cells[name];
    if (kind !== 'number' || cell === undefined) continue;
    const value = parseValue(cell, { unit: unit!, shownIn: shownIn! });
    const parameter = { name, symbol: name, unit: unit!, shownIn: shownIn!, meaning, ...within };
    const wrong = isProblem(value) ? value.problem : outOfRange(value.value, parameter, value.shownIn);
    if (wrong !== undefined) faults.push({ place: `${place} ${name}`, message: wrong });
    else if (!isProblem(value)) numbers[name] = value.value;
  }
  return numbers;
}

function atSettings(
  { scenario, faults }: RunContext,
  { cells, place }: LogRow,
  numbers: Numbers,
): { scenario: Scenario; rate: number | undefined } {
  const factors: { path: string; as?: 'shaft' | 'rim' }[] = [];
  const values: FactorValue[] = [];
  let rate: number | undefined;
  for (const name of SETTINGS) {
    const cell = cells[name];
    if (cell === undefined) continue;
    const value = parseSetting(cell, name, scenario.machine.drives);
    const wrong = isProblem(value) ? value.problem : unlikely(value, name, scenario, cells.wheel);
    if (wrong !== undefined) faults.push({ place: `${place} ${name}`, message: wrong });
    else if (!isProblem(value)) {
      factors.push({ path: name, ...(value.as ? { as: value.as } : {}) });
      values.push(value.value);
      if (name === 'feedRate') rate = value.value;
    }
  }
  if (rate === undefined && numbers.feed && numbers.minutes) {
    rate = numbers.feed / numbers.minutes;
    factors.push({ path: 'feedRate' });
    values.push(rate);
  }
  const wheels = Object.keys(scenario.machine.wheels);
  if (cells.wheel !== undefined && !wheels.includes(cells.wheel))
    faults.push({
      place: `${place} wheel`,
      message: `must be a wheel of the machine, is "${cells.wheel}"${suggestion(cells.wheel, wheels)}`,
    });
  else if (cells.wheel !== undefined) {
    factors.push({ path: 'wheel' });
    values.push(cells.wheel);
  }
  for (const [name, path] of [
    ['airFlow', 'air.flow'],
    ['inletTemperature', 'air.temperature'],
  ] as const) {
    if (numbers[name] === undefined) continue;
    factors.push({ path });
    values.push(numbers[name]);
  }
  return { scenario: withValues(scenario, factors, values), rate };
}

/** Turns below this share of the highest are a frequency or a tip speed that was written down as rpm (`assumed`). */
const SLOWEST = 0.02;

/** Why a speed is beyond what the machine is said to allow, or a slip of unit; a log of it has a slip, or the scenario has. */
function unlikely(
  { as, value }: { as?: 'shaft' | 'rim'; value: number },
  name: (typeof SETTINGS)[number],
  { machine, settings }: Scenario,
  wheel = settings.wheel,
): string | undefined {
  if (as === undefined || name === 'feedRate') return undefined;
  const part = name === 'rotorSpeed' ? machine.rotor : machine.wheels[wheel];
  if (as === 'shaft' && part && value > 0 && value < SLOWEST * part.maxSpeed) {
    const top = formatQuantity(part.maxSpeed, 'rpm');
    return `is ${formatQuantity(value, 'rpm')}, below ${100 * SLOWEST} % of the highest speed of ${top}: read in Hz or m/s? then write that unit`;
  }
  return speedFault({ as, value }, name, machine, [wheel]);
}

function powerOf(
  context: RunContext,
  scenario: Scenario,
  numbers: Numbers,
  { place }: LogRow,
  flags: string[],
): Pick<LoggedTrial, 'power' | 'idlePower' | 'powerFrom'> | undefined {
  const { power, current, idlePower, idleCurrent } = numbers;
  if (power === 0) {
    // a relative error of nothing would count without end
    flags.push('power under load is 0: taken as not measured');
    return undefined;
  }
  if (power !== undefined) {
    if (idlePower !== undefined && !(idlePower < power))
      flags.push('power under load is not above the idle power');
    return {
      power: { value: power, error: context.powerError },
      powerFrom: 'kW',
      ...(idlePower === undefined ? {} : { idlePower }),
    };
  }
  if (current === undefined) return undefined;
  if (!context.motor) {
    context.faults.push({
      place: `${place} current`,
      message:
        'amps need the motor’s no-load and rated current; state motor: { noLoadCurrent: 10 A, ratedCurrent: 28 A } in a YAML log, or --noLoadCurrent and --ratedCurrent',
    });
    return undefined;
  }
  const c = toCase(scenario);
  const full = availablePower(c.rotor.motor, c.settings.rotorSpeed);
  const { fraction, error } = torqueFraction(current, context.motor);
  if (!Number.isFinite(fraction) || !(fraction > 0)) {
    flags.push('the current is not above the motor’s no-load current: no power was taken from it');
    return undefined;
  }
  const idle =
    idleCurrent === undefined ? idlePower : torqueFraction(idleCurrent, context.motor).fraction * full;
  return {
    power: { value: fraction * full, error },
    powerFrom: `amps, torque fraction ${fraction.toPrecision(3)} ± ${(100 * error).toFixed(0)} % (eq. 24a, assumed)`,
    ...(idle === undefined || !Number.isFinite(idle) ? {} : { idlePower: idle }),
  };
}

function closureAt(context: RunContext, numbers: Numbers, rate: number | undefined): LoggedTrial['closure'] {
  const { feed, product, filter, minutes } = numbers;
  if (!feed || product === undefined) return undefined;
  const masses: Masses = {
    feed,
    product,
    filter: filter ?? 0,
    ...(rate !== undefined && minutes ? { metered: rate * minutes } : {}),
  };
  return closureOf(masses, context.weighing);
}
