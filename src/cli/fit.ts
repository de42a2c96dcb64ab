import { basename } from 'node:path';
import { InputError } from '../scenario/errors.ts';
import { loadScenario } from '../scenario/load.ts';
import { formatNumber } from '../scenario/units/display.ts';
import { calibrationFile } from '../trials/calibration/write.ts';
import { type Fit, fitTrials } from '../trials/fit/fit.ts';
import { idleNumberOf } from '../trials/fit/idle.ts';
import type { Standing } from '../trials/fit/standing.ts';
import { readTrialLog } from '../trials/log/file.ts';
import type { TrialLog } from '../trials/log/logged.ts';
import { REPEATABILITY_SOURCE } from '../trials/repeatability.ts';
import { type TrialReport, trialReport } from '../trials/report-data.ts';
import { type Command, EXIT } from './command.ts';
import { refuseOutside, SEED } from './number-option.ts';
import { readOptions, statedOptions } from './read-options.ts';
import { textTable } from './text-table.ts';
import { writeWhole } from './write-file.ts';

/** Starts of a search; more find nothing that these do not. */
const MOST_STARTS = 100;

/** `fit FILE --trials T -o CAL`: calibrates on measured trials. */
export const fit: Command = {
  usage: 'fit <file>',
  summary: 'calibrates breakage and wheel coefficients on measured trials, with uncertainty',
  options: (argv) =>
    readOptions(
      argv
        .positional('file', {
          type: 'string',
          describe: 'scenario of machine and material',
          demandOption: true,
        })
        .option('trials', {
          type: 'string',
          demandOption: true,
          describe: 'trial log, CSV or YAML, one row a run',
        })
        .option('out', { alias: ['o', 'output'], type: 'string', describe: 'calibration file to write' })
        .option('without', {
          type: 'string',
          array: true,
          nargs: 1,
          default: [] as string[],
          describe: 'leave this run out (repeatable)',
        })
        .option('noLoadCurrent', { type: 'number', describe: 'uncoupled no-load current of the motor [A]' })
        .option('ratedCurrent', { type: 'number', describe: 'rated current of the motor [A]' })
        .option('laserToSieve', {
          type: 'number',
          describe: 'laser size over sieve size of one sample measured both ways',
        })
        .option('starts', { type: 'number', default: 4, describe: 'starts of the search' })
        .option('seed', { type: 'number', default: 1, describe: 'seed of the starts' })
        .option('set', {
          type: 'string',
          array: true,
          nargs: 1,
          default: [] as string[],
          describe: 'change a value of the scenario (repeatable)',
        })
        .option('json', { type: 'boolean', default: false, describe: 'print the result as JSON' }),
    ),
  run: async (options) => {
    refuseOutside(options, {
      starts: { whole: true, least: 1, most: MOST_STARTS },
      seed: SEED,
      noLoadCurrent: { least: 0, most: 1e5 },
      ratedCurrent: { above: 0, most: 1e5 },
      laserToSieve: { above: 0, most: 100 },
    });
    const scenario = await loadScenario(String(options.file), { set: options.set as string[] });
    if (scenario.calibration)
      throw new InputError([
        {
          place: 'calibration',
          message: 'a fit starts from the uncalibrated scenario: take calibration: out of the file',
        },
      ]);
    const log = chosen(
      await readTrialLog(String(options.trials), scenario, {
        reading: statedOptions(options),
        ...motorOf(options),
        ...factorOf(options),
      }),
      options.without as string[],
    );
    const found = fitTrials(scenario, log.trials, {
      starts: Number(options.starts),
      seed: Number(options.seed),
    });
    if (!found) {
      process.stderr.write(
        'the model has no steady state at the settings of these trials: check settings, feed and material\n',
      );
      return EXIT.noAnswer;
    }
    const idle = idleNumberOf(log.trials);
    const report = trialReport(log, found, idle);
    if (options.out !== undefined) {
      const head = {
        scenario: scenario.title,
        log: basename(log.name),
        trials: log.trials.map(({ name }) => name),
        date: new Date().toISOString().slice(0, 10),
      };
      writeWhole(String(options.out), calibrationFile(found, head, idle));
    }
    process.stdout.write(
      options.json
        ? `${JSON.stringify(report, null, 2)}\n`
        : asText(report, found, options.out as string | undefined),
    );
    return EXIT.done;
  },
};

function motorOf({ noLoadCurrent, ratedCurrent }: Readonly<Record<string, unknown>>) {
  if (noLoadCurrent === undefined && ratedCurrent === undefined) return {};
  const motor = { noLoad: Number(noLoadCurrent), rated: Number(ratedCurrent) };
  if (!(motor.noLoad < motor.rated))
    throw new InputError([
      {
        place: '--noLoadCurrent, --ratedCurrent',
        message: 'give both, the rated current above the no-load current',
      },
    ]);
  return { motor };
}

function factorOf({ laserToSieve: factor }: Readonly<Record<string, unknown>>) {
  if (factor === undefined) return {};
  if (!(Number(factor) > 0))
    throw new InputError([{ place: '--laserToSieve', message: `must be > 0, is ${String(factor)}` }]);
  return { laserToSieve: Number(factor) };
}

function chosen(log: TrialLog, without: readonly string[]): TrialLog {
  const names = log.trials.map(({ name }) => name);
  const faults = without
    .filter((name) => !names.includes(name))
    .map((name) => ({ place: '--without', message: `no run ${name}; there are ${names.join(', ')}` }));
  const twice = names
    .filter((name, i) => names.indexOf(name) !== i)
    .map((name) => ({ place: log.name, message: `two runs are named ${name}` }));
  const trials = log.trials.filter(({ name }) => !without.includes(name));
  const useful = trials.some(({ sizes, power }) => sizes || power);
  const empty = useful ? [] : [{ place: log.name, message: 'no run has sizes or power to fit to' }];
  if (faults.length + twice.length + empty.length > 0) throw new InputError([...faults, ...twice, ...empty]);
  return { ...log, trials };
}

function asText(report: TrialReport, found: Fit, out: string | undefined): string {
  const { coefficients, fit: summary } = report;
  const settled = coefficients.filter(({ state }) => state === 'settled');
  const lines = [
    `${report.runs.length} trials settle ${settled.length} of ${coefficients.length} coefficients: ${settled.map(inWords).join(', ') || 'none'}.`,
    summary.lackOfFit
      ? `The model does NOT fit within the measuring errors (χ² ${formatNumber(summary.chiSquare)} on ${formatNumber(summary.freedom)} degrees of freedom, chance ${summary.probability.toPrecision(2)}): every band is widened by ${formatNumber(100 * summary.discrepancy, 2)} % of size.`
      : `The model fits within the measuring errors (χ² ${formatNumber(summary.chiSquare)} on ${formatNumber(summary.freedom)} degrees of freedom, chance ${summary.probability.toPrecision(2)}).`,
    '',
    coefficientTable(coefficients),
    '',
    ...report.boundPairs.map(
      ({ one, other, correlation }) =>
        `${one} and ${other} go together (correlation ${correlation.toFixed(2)}): only their combination is known.`,
    ),
    ...coefficients
      .filter(({ atBound }) => atBound)
      .map(
        ({ symbol, path }) =>
          `${symbol} (${path}) ended at the end of its allowed range: look for a fault in trials or scenario.`,
      ),
    '',
    runTable(report),
    ...report.runs.flatMap(({ name, flags, fits }) => [
      ...flags.map((flag) => `run ${name}: ${flag}`),
      ...(fits === false ? [`run ${name}: does not fit with the others (χ² beyond 0.1 %)`] : []),
    ]),
    ...temperatureCheck(report),
    '',
    `${found.agreeing} of ${found.starts} starts came to the same answer. Weights: ${REPEATABILITY_SOURCE}; power 3 % or as the log says.`,
    out === undefined
      ? 'Nothing was written; -o CAL writes the calibration.'
      : `Written to ${out}; a scenario takes it up by calibration: ${out}`,
  ];
  return `${lines.filter((line, i) => line !== '' || lines[i - 1] !== '').join('\n')}\n`;
}

function inWords({ symbol, value, after }: Standing): string {
  return `${symbol} ${formatNumber(value)} ± ${formatNumber(100 * after, 2)} %`;
}

const WARM = 2;

/** Outlet temperatures stay out of the fit, which power has settled already; they tell of air flow and heat loss. */
function temperatureCheck({ runs }: TrialReport): string[] {
  const gaps = runs.flatMap(({ outletTemperature_C: { measured, model } }) =>
    measured === null || model === null ? [] : [measured - model],
  );
  if (gaps.length === 0) return [];
  const mean = gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length;
  const seen = `Outlet temperature, kept out of the fit: ${formatNumber(mean, 2)} K off the model on average`;
  return [Math.abs(mean) > WARM ? `${seen}: check air flow, inlet temperature and heat loss.` : `${seen}.`];
}

const STATE = { settled: 'settled', weak: 'weakly', held: 'held by its prior' } as const;

function coefficientTable(coefficients: readonly Standing[]): string {
  const rows = coefficients.map(({ symbol, path, unit, prior, value, before, after, state }) => [
    `${symbol}  ${path}${unit === '1' ? '' : ` [${unit}]`}`,
    formatNumber(prior),
    formatNumber(value),
    `${formatNumber(100 * before, 2)} %`,
    `${formatNumber(100 * after, 2)} %`,
    STATE[state],
  ]);
  return textTable([['coefficient', 'before', 'fitted', 'spread before', 'after', 'known'], ...rows]);
}

function runTable({ runs }: TrialReport): string {
  const number = (value: number | null): string => (value === null ? '–' : formatNumber(value, 3));
  const rows = runs.map(
    ({ name, percentiles, power_kW, outletTemperature_C, closure, chiSquare, residuals }) => [
      name,
      ...[1, 3].flatMap((k) => [number(percentiles[k]!.measured), number(percentiles[k]!.model)]),
      number(power_kW.measured),
      number(power_kW.model),
      number(outletTemperature_C.measured),
      number(outletTemperature_C.model),
      closure ? `${formatNumber(100 * closure.gap, 2)} %${closure.closes ? '' : ' !'}` : '–',
      chiSquare === null || residuals === 0 ? '–' : `${formatNumber(chiSquare, 3)}/${residuals}`,
    ],
  );
  return textTable([
    ['run', 'x50 [µm]', 'model', 'x95 [µm]', 'model', 'kW', 'model', '°C', 'model', 'mass gap', 'χ²/n'],
    ...rows,
  ]);
}
