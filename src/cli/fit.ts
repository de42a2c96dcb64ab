import { basename } from 'node:path';
import { fitDocument } from '../answers/fit/fit-document.ts';
import { InputError } from '../scenario/errors.ts';
import { loadScenario } from '../scenario/load.ts';
import { usedFromOutside, versionsOf } from '../scenario/outside/laws-used.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { programVersion } from '../sweep/store/version.ts';
import { madeOf } from '../trials/calibration/made-of.ts';
import { calibrationFile } from '../trials/calibration/write.ts';
import { settlesNothing } from '../trials/fit/coefficient-summary.ts';
import { fitTrials } from '../trials/fit/fit.ts';
import { idleNumberOf } from '../trials/fit/idle.ts';
import { readTrialLogs } from '../trials/log/file.ts';
import type { TrialLog } from '../trials/log/logged.ts';
import { trialReport } from '../trials/report-data.ts';
import { checkedTogether } from './collect-faults.ts';
import { type Command, EXIT } from './command.ts';
import { giveDocument } from './document-output.ts';
import { refuseOutside, SEED } from './number-option.ts';
import { readOptions, statedOptions } from './read-options.ts';
import { settable } from './set-option.ts';
import { writeWhole } from './write-file.ts';

/** Starts of a search; more find nothing that these do not. */
const MOST_STARTS = 100;

/** `fit FILE --trials T -o CAL`: calibrates on measured trials. */
export const fit: Command = {
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
          array: true,
          nargs: 1,
          demandOption: true,
          describe: 'trial log, CSV or YAML, one row a run (repeatable); new --log writes an empty one',
        })
        .option('output', {
          alias: 'o',
          type: 'string',
          array: true,
          nargs: 1,
          default: [] as string[],
          describe: 'calibration file to write; a page where it ends in .html (repeatable)',
        })
        .option('without', {
          type: 'string',
          array: true,
          nargs: 1,
          default: [] as string[],
          describe: 'leave this run out and foretell it from the others (repeatable)',
        })
        .option('no-load-current', { type: 'number', describe: 'uncoupled no-load current of the motor [A]' })
        .option('rated-current', { type: 'number', describe: 'rated current of the motor [A]' })
        .option('laser-to-sieve', {
          type: 'number',
          describe: 'laser size over sieve size of one sample measured both ways',
        })
        .option('starts', { type: 'number', default: 8, describe: 'starts of the search' })
        .option('seed', { type: 'number', default: 1, describe: 'seed of starts and draws' })
        .option('set', settable('change a value, e.g. --set settings.feedRate="200 kg/h" (repeatable)'))
        .option('json', { type: 'boolean', default: false, describe: 'print everything as JSON' })
        .example('grindloop fit my-case.yaml --trials log.csv -o cal.yaml', 'a calibration from a trial log')
        .example(
          'grindloop fit my-case.yaml --trials log.csv -o cal.yaml -o fit.html',
          'the same, and a page',
        ),
    ),
  run: async (options) => {
    const [[calibration, page], , { scenario, log, leftOut }] = await checkedTogether<
      [ReturnType<typeof filesOf>, unknown, Campaign]
    >([
      () => filesOf(options.output as string[]),
      () => refuseOutside(options, BOUNDS),
      () => trialsFor(options),
    ]);
    const found = fitTrials(scenario, log.trials, {
      starts: Number(options.starts),
      seed: Number(options.seed),
      ...(process.stderr.isTTY ? { progress: shareDone } : {}),
    });
    if (process.stderr.isTTY) process.stderr.write('\r\x1b[K');
    if (!found) {
      process.stderr.write(
        'the model has no steady state at the settings of these trials: check settings, feed and material\n',
      );
      return EXIT.noAnswer;
    }
    if (settlesNothing(found)) {
      process.stderr.write(
        'these trials constrain no coefficient, so no calibration was written; measure sizes over a wider range of settings\n',
      );
      return EXIT.noAnswer;
    }
    const idle = idleNumberOf(log.trials);
    const report = trialReport(log, found, idle, leftOut);
    const write = (): void => {
      if (calibration === undefined) return;
      const laws = versionsOf(usedFromOutside(scenario));
      const head = {
        scenario: scenario.title,
        log: log.name
          .split(', ')
          .map((path) => basename(path))
          .join(', '),
        trials: found.comparisons.map(({ trial }) => trial.name),
        leftAsGiven: report.fit.leftAsGiven,
        of: madeOf(
          scenario,
          found.comparisons.map(({ trial }) => trial),
        ),
        version: programVersion(),
        ...(laws ? { laws } : {}),
        date: new Date().toISOString().slice(0, 10),
      };
      writeWhole(calibration, calibrationFile(found, head, idle));
    };
    const head = { title: scenario.title, job: scenario.job };
    const written = { ...head, ...(calibration === undefined ? {} : { calibration }) };
    const giving = { json: options.json === true, scenarioText: scenario.text };
    try {
      write();
    } catch (fault) {
      // what was found is said even where it cannot be written
      giveDocument(fitDocument(report, head), giving);
      throw fault;
    }
    return giveDocument(fitDocument(report, written), { ...giving, ...(page === undefined ? {} : { page }) });
  },
};

/** The share of the sampling done, on one line of a terminal. */
function shareDone(share: number): void {
  process.stderr.write(`\r\x1b[Kfit: ${Math.round(100 * share)} % of the samples`);
}

/** The calibration and the page among the files to write. */
function filesOf(files: readonly string[]): [calibration: string | undefined, page: string | undefined] {
  const pages = files.filter((file) => /\.html?$/i.test(file));
  const others = files.filter((file) => !pages.includes(file));
  if (pages.length > 1 || others.length > 1)
    throw new InputError([{ place: '-o/--output', message: 'name one calibration and one page at most' }]);
  return [others[0], pages[0]];
}

const BOUNDS = {
  starts: { whole: true, least: 1, most: MOST_STARTS },
  seed: SEED,
  'no-load-current': { least: 0, most: 1e5 },
  'rated-current': { above: 0, most: 1e5 },
  'laser-to-sieve': { above: 0, most: 100 },
} as const;

/** The plain scenario, the runs of its log that are to be fitted, and those left out. */
interface Campaign {
  readonly scenario: Scenario;
  readonly log: TrialLog;
  readonly leftOut: TrialLog['trials'];
}

/** What the options ask for. */
async function trialsFor(options: Readonly<Record<string, unknown>>): Promise<Campaign> {
  const [motor, scenario] = await checkedTogether<[ReturnType<typeof motorOf>, Scenario]>([
    () => motorOf(options),
    () => loadScenario(String(options.file), { set: options.set as string[] }),
  ]);
  if (scenario.calibration)
    throw new InputError([
      {
        place: 'calibration',
        message: 'a fit starts from the uncalibrated scenario: take calibration: out of the file',
      },
    ]);
  const log = await readTrialLogs(options.trials as string[], scenario, {
    reading: statedOptions(options as Parameters<typeof statedOptions>[0]),
    ...motor,
    ...(options.laserToSieve === undefined ? {} : { laserToSieve: Number(options.laserToSieve) }),
  });
  const without = options.without as string[];
  const leftOut = log.trials.filter(({ name }) => without.includes(name));
  return { scenario, log: chosen(log, without), leftOut };
}

function motorOf({ noLoadCurrent, ratedCurrent }: Readonly<Record<string, unknown>>) {
  if (noLoadCurrent === undefined && ratedCurrent === undefined) return {};
  const motor = { noLoad: Number(noLoadCurrent), rated: Number(ratedCurrent) };
  if (!(motor.noLoad < motor.rated))
    throw new InputError([
      {
        place: '--no-load-current, --rated-current',
        message: 'give both, the rated current above the no-load current',
      },
    ]);
  return { motor };
}

function chosen(log: TrialLog, without: readonly string[]): TrialLog {
  const names = log.trials.map(({ name }) => name);
  const faults = without
    .filter((name) => !names.includes(name))
    .map((name) => ({ place: '--without', message: `no run ${name}; there are ${names.join(', ')}` }));
  const trials = log.trials.filter(({ name }) => !without.includes(name));
  const useful = trials.some(({ sizes, power }) => sizes || power);
  const empty = useful ? [] : [{ place: log.name, message: 'no run has sizes or power to fit to' }];
  if (faults.length + empty.length > 0) throw new InputError([...faults, ...empty]);
  return { ...log, trials };
}
