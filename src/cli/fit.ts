import { chosenRuns, fitAnswer, USUAL_FIT } from '../answers/fit/fit-answer.ts';
import { fitDocument } from '../answers/fit/fit-document.ts';
import { InputError } from '../scenario/errors.ts';
import { loadScenario } from '../scenario/load.ts';
import { LEFT_OUT } from '../scenario/read/calibration.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { programVersion } from '../sweep/store/version.ts';
import { readTrialLogs } from '../trials/log/file.ts';
import type { TrialLog } from '../trials/log/logged.ts';
import { checkedTogether } from './collect-faults.ts';
import { type Command, EXIT } from './command.ts';
import { giveDocument } from './document-output.ts';
import { entryAndPage } from './entry-and-page.ts';
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
        .option('starts', { type: 'number', default: USUAL_FIT.starts, describe: 'starts of the search' })
        .option('seed', { type: 'number', default: USUAL_FIT.seed, describe: 'seed of starts and draws' })
        .option('set', settable('change a value, e.g. --set settings.feedRate="200 kg/h" (repeatable)'))
        .option('json', { type: 'boolean', default: false, describe: 'print everything as JSON' })
        .example('grindloop fit my-case.yaml --trials log.csv -o cal.yaml', 'a calibration from a trial log')
        .example(
          'grindloop fit my-case.yaml --trials log.csv -o cal.yaml -o fit.html',
          'the same, and a page',
        ),
    ),
  run: async (options) => {
    const [[calibration, page], , { scenario, log }] = await checkedTogether<
      [ReturnType<typeof entryAndPage>, unknown, Campaign]
    >([
      () => entryAndPage(options.output as string[], 'calibration'),
      () => refuseOutside(options, BOUNDS),
      () => trialsFor(options),
    ]);
    const found = fitAnswer(scenario, log, {
      starts: Number(options.starts),
      seed: Number(options.seed),
      version: programVersion(),
      without: options.without as string[],
      ...(process.stderr.isTTY ? { progress: shareDone } : {}),
    });
    if (process.stderr.isTTY) process.stderr.write('\r\x1b[K');
    if ('noFit' in found) {
      process.stderr.write(`${found.noFit}\n`);
      return EXIT.noAnswer;
    }
    const { report } = found;
    const leftOut = scenario.warnings.filter(({ code }) => code === LEFT_OUT).map(({ message }) => message);
    const head = { title: scenario.title, job: scenario.job, notes: leftOut };
    const written = { ...head, ...(calibration === undefined ? {} : { calibration }) };
    const giving = { json: options.json === true, scenarioText: scenario.text };
    try {
      if (calibration !== undefined) writeWhole(calibration, found.calibration);
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

const BOUNDS = {
  starts: { whole: true, least: 1, most: MOST_STARTS },
  seed: SEED,
  'no-load-current': { least: 0, most: 1e5 },
  'rated-current': { above: 0, most: 1e5 },
  'laser-to-sieve': { above: 0, most: 100 },
} as const;

/** The plain scenario and its log. */
interface Campaign {
  readonly scenario: Scenario;
  readonly log: TrialLog;
}

/** What the options ask for. */
async function trialsFor(options: Readonly<Record<string, unknown>>): Promise<Campaign> {
  const [motor, scenario] = await checkedTogether<[ReturnType<typeof motorOf>, Scenario]>([
    () => motorOf(options),
    () => loadScenario(String(options.file), { set: options.set as string[], uncalibrated: true }),
  ]);
  const log = await readTrialLogs(options.trials as string[], scenario, {
    reading: statedOptions(options as Parameters<typeof statedOptions>[0]),
    ...motor,
    ...(options.laserToSieve === undefined ? {} : { laserToSieve: Number(options.laserToSieve) }),
  });
  // a wrong name is reported with every other fault of the command line
  chosenRuns(log, options.without as string[]);
  return { scenario, log };
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
