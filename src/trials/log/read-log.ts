import { type Fault, InputError } from '../../scenario/errors.ts';
import { CHOICES, type ReadOptions } from '../../scenario/measurement/reading-questions.ts';
import type { Averaged } from '../../scenario/measurement/replicates.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { parseValue } from '../../scenario/units/parse-quantity.ts';
import { isProblem } from '../../scenario/units/unit-problem.ts';
import { mixedMethods, sieveAsLaser } from '../method.ts';
import { MEASUREMENT_ERRORS } from '../trial.ts';
import type { MotorCurrents } from './amps.ts';
import { WEIGHING_ERRORS, type WeighingErrors } from './balance.ts';
import { bytesAt, type LogFiles } from './log-files.ts';
import type { TrialLog } from './logged.ts';
import { type LogRow, readLogText } from './rows.ts';
import { type RunContext, runOf } from './run.ts';
import { againstFeed, sharedFiles, sizesOfRow } from './size-files.ts';

/** What a user states beyond the log. */
export interface LogOptions {
  readonly reading?: ReadOptions;
  readonly motor?: MotorCurrents;
  /** Laser size over sieve size of one sample measured both ways; needed where a log mixes the two. */
  readonly laserToSieve?: number;
}

/**
 * Reads a trial log and the size files it names (relative to the log).
 *
 * @param path CSV or YAML
 * @param scenario the machine and material of the trials; what a row does not say is as the scenario has it
 * @param files where log and size files lie: on a disk, or among the files of a page
 * @throws InputError with every fault of the log and of its size files at once
 */
export function trialLogOf(
  path: string,
  scenario: Scenario,
  files: LogFiles,
  options: LogOptions = {},
): TrialLog {
  const { rows, blocks } = readLogText(bytesAt(path, files), path, options.reading?.decimal);
  const faults: Fault[] = [];
  const motor = options.motor ?? motorOf(blocks.motor, path, faults);
  const errors = errorsOf(blocks.errors, path, faults);
  const reading = { ...options.reading, ...readingOf(blocks.reading, path, faults) };
  const context: RunContext = {
    scenario,
    weighing: errors,
    powerError: errors.power,
    faults,
    ...(motor ? { motor } : {}),
  };
  const placed = rows.map((row) => ({
    ...row,
    files: row.files.map((name) => ({ name, place: files.placeOf(name, path) })),
  }));
  const sizes = placed.map((row) => sizesOfRow(row, files, reading, faults));
  faults.push(...sharedFiles(placed, sizes), ...suspectSizes(rows, sizes, scenario));
  const factor = options.laserToSieve;
  const comparable = oneMethod(sizes, path, factor, faults);
  const trials = rows.map((row, i) => runOf(context, row, i, comparable[i]));
  faults.push(...namedTwice(trials, path));
  if (faults.length > 0) throw new InputError(faults);
  const ignored = [...new Set(rows.flatMap(({ others }) => Object.keys(others)))];
  return { name: path, trials, ignored };
}

/**
 * Reads several logs as one: a campaign may be kept day by day. Runs whose names clash are named after their log too.
 *
 * @throws InputError with every fault of every log at once
 */
export function trialLogsOf(
  paths: readonly string[],
  scenario: Scenario,
  files: LogFiles,
  options: LogOptions = {},
): TrialLog {
  const faults: Fault[] = [];
  const logs = paths.flatMap((path) => {
    try {
      return [trialLogOf(path, scenario, files, options)];
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      faults.push(...error.faults);
      return [];
    }
  });
  const twice = [...new Set(paths.filter((path, i) => paths.indexOf(path) !== i))];
  faults.push(...twice.map((place) => ({ place, message: 'this log is given twice' })));
  if (faults.length > 0) throw new InputError(faults);
  if (logs.length === 1) return logs[0]!;
  const names = logs.flatMap(({ trials }) => trials.map(({ name }) => name));
  const clash = new Set(names.filter((name, i) => names.indexOf(name) !== i));
  const own = (log: TrialLog) => log.name.replace(/^.*[\\/]/, '').replace(/\.[^.]+$/, '');
  const samples = logs.flatMap(({ trials }) => trials.flatMap(({ sizes }) => (sizes ? [sizes] : [])));
  const mixed = mixedMethods(samples, options.laserToSieve);
  if (mixed) throw new InputError([{ place: paths.join(', '), message: mixed }]);
  return {
    name: logs.map(({ name }) => name).join(', '),
    trials: logs.flatMap((log) =>
      log.trials.map((trial) =>
        clash.has(trial.name) ? { ...trial, name: `${own(log)} ${trial.name}` } : trial,
      ),
    ),
    ignored: [...new Set(logs.flatMap(({ ignored }) => ignored))],
  };
}

function suspectSizes(
  rows: readonly LogRow[],
  sizes: readonly (Averaged | undefined)[],
  scenario: Scenario,
): Fault[] {
  return rows.flatMap(({ place, files }, i) => {
    const sample = sizes[i]?.sample;
    const message = sample && againstFeed(sample, scenario);
    return message ? [{ place: `${place} (${files.join(', ')})`, message }] : [];
  });
}

function namedTwice(trials: TrialLog['trials'], place: string): Fault[] {
  const names = trials.map(({ name }) => name);
  const twice = new Set(names.filter((name, i) => names.indexOf(name) !== i));
  return [...twice].map((name) => {
    const where = trials.filter((one) => one.name === name).map((one) => one.place.replace(`${place} `, ''));
    return { place, message: `several runs are named ${name} (${where.join(', ')}): give each its own name` };
  });
}

/** Sizes of all runs by one method: a log that mixes laser and sieve needs the factor between them. */
function oneMethod(
  sizes: readonly (Averaged | undefined)[],
  place: string,
  factor: number | undefined,
  faults: Fault[],
): readonly (Averaged | undefined)[] {
  const samples = sizes.flatMap((one) => (one ? [one.sample] : []));
  const mixed = mixedMethods(samples, factor);
  if (mixed) faults.push({ place, message: mixed });
  const both = new Set(samples.map(({ method }) => method)).size > 1;
  if (!both || factor === undefined) return sizes;
  return sizes.map((one) =>
    one?.sample.method === 'sieve' ? { ...one, sample: sieveAsLaser(one.sample, factor) } : one,
  );
}

type Block = Readonly<Record<string, unknown>> | undefined;

const MOTOR = ['noLoadCurrent', 'ratedCurrent'];

function motorOf(block: Block, place: string, faults: Fault[]): MotorCurrents | undefined {
  if (!block) return undefined;
  const current = (key: string): number => {
    const value = parseValue(String(block[key] ?? ''), { unit: 'A', shownIn: 'A' });
    if (!isProblem(value)) return value.value;
    faults.push({ place: `${place}: motor.${key}`, message: value.problem });
    return Number.NaN;
  };
  for (const key of Object.keys(block))
    if (!MOTOR.includes(key))
      faults.push({
        place: `${place}: motor.${key}`,
        message: `is not known here; known are ${MOTOR.join(', ')}`,
      });
  const motor = { noLoad: current('noLoadCurrent'), rated: current('ratedCurrent') };
  if (motor.noLoad < 0 || motor.noLoad >= motor.rated)
    faults.push({
      place: `${place}: motor`,
      message: 'must have a no-load current of 0 A or more and a rated current above it',
    });
  return motor;
}

function errorsOf(block: Block, place: string, faults: Fault[]): WeighingErrors & { readonly power: number } {
  const errors: Record<string, number> = { ...WEIGHING_ERRORS, power: MEASUREMENT_ERRORS.power };
  for (const [key, text] of Object.entries(block ?? {})) {
    const value = parseValue(String(text), { unit: '1', shownIn: '%' });
    if (!Object.hasOwn(errors, key))
      faults.push({
        place: `${place}: errors.${key}`,
        message: `is not known here; known are ${Object.keys(errors).join(', ')}`,
      });
    else if (isProblem(value)) faults.push({ place: `${place}: errors.${key}`, message: value.problem });
    else if (!(value.value > 0 && value.value <= 1))
      faults.push({
        place: `${place}: errors.${key}`,
        message: `must be above 0, at most 100 %, is ${text}`,
      });
    else errors[key] = value.value;
  }
  return errors as unknown as WeighingErrors & { power: number };
}

function readingOf(block: Block, place: string, faults: Fault[]): ReadOptions {
  const reading: Record<string, string> = {};
  for (const [key, value] of Object.entries(block ?? {})) {
    const known = Object.hasOwn(CHOICES, key);
    const choices = known ? (CHOICES as Readonly<Record<string, readonly string[]>>)[key] : undefined;
    if (choices?.includes(String(value))) reading[key] = String(value);
    else
      faults.push({
        place: `${place}: reading.${key}`,
        message: choices
          ? `must be ${choices.join(' | ')}`
          : `is not known here; known are ${Object.keys(CHOICES).join(', ')}`,
      });
  }
  return reading as ReadOptions;
}
