import { basename } from 'node:path';
import { textTable } from '../answers/text-table.ts';
import { humidAirDensity } from '../model/air.ts';
import { EFFICIENCY_LAWS } from '../model/wheel/efficiency/index.ts';
import { InputError } from '../scenario/errors.ts';
import { shareBelow } from '../scenario/measurement/measured-curve.ts';
import type { MeasuredSample } from '../scenario/measurement/measured-sample.ts';
import type { ReadOptions } from '../scenario/measurement/read-options.ts';
import { averageRepeats } from '../scenario/measurement/replicates.ts';
import { parseValue } from '../scenario/units/parse.ts';
import { isProblem } from '../scenario/units/problem.ts';
import { withAnalyserErrors } from '../trials/grade/analyser-errors.ts';
import {
  cutFromSplit,
  fitGrade,
  type GradeFit,
  type GradePoint,
  gradePoints,
} from '../trials/grade/efficiency.ts';
import { type Split, splitOf } from '../trials/grade/split.ts';
import { wheelEntry } from '../trials/grade/wheel-entry.ts';
import { mixedMethods } from '../trials/method.ts';
import { checkedTogether } from './collect-faults.ts';
import { type Command, EXIT } from './command.ts';
import { refuseOutside } from './number-option.ts';
import { type NamedReading, readAll } from './read-all.ts';
import { readOptions, statedOptions } from './read-options.ts';

/** `grade FEED FINES COARSE`: how sharply a wheel sorted, from three measured curves. */
export const grade: Command = {
  options: (argv) =>
    readOptions(
      argv
        .positional('feed', {
          type: 'string',
          demandOption: true,
          describe: 'export of the feed to the wheel',
        })
        .positional('fines', { type: 'string', demandOption: true, describe: 'export of the fines' })
        .positional('coarse', { type: 'string', demandOption: true, describe: 'export of the coarse' })
        .option('yield', { type: 'number', describe: 'fines over feed by weight [%], where it was weighed' })
        .option('loading', {
          type: 'number',
          describe:
            'mass to the wheel over mass of air in the test [kg/kg], for sharpness and bypass without load',
        })
        .option('feed-rate', {
          type: 'string',
          describe: 'feed to the wheel, e.g. "900 kg/h"; with --air it gives the loading',
        })
        .option('air', {
          type: 'string',
          describe: 'air through the wheel, e.g. "1500 m^3/h", counted as air of 20 °C and 101.3 kPa',
        })
        .option('law', {
          type: 'string',
          default: 'rosin-rammler',
          choices: Object.keys(EFFICIENCY_LAWS),
          describe: 'grade-efficiency law to fit',
        })
        .option('json', { type: 'boolean', default: false, describe: 'print the result as JSON' }),
    ),
  run: async (options) => {
    const [, stated, loading] = await checkedTogether<[unknown, ReadOptions, number | undefined]>([
      () => refuseOutside(options, { yield: { above: 0, most: 100 }, loading: { above: 0, most: 20 } }),
      () => statedOptions(options),
      () => loadingOf(options),
    ]);
    const files = [options.feed, options.fines, options.coarse].map(String);
    const readings = await readAll(files, stated);
    const [feed, fines, coarse] = readings.map(meanOf);
    const mixed = mixedMethods([feed!, fines!, coarse!]);
    if (mixed) throw new InputError([{ place: 'feed, fines, coarse', message: mixed }]);
    const weighed = options.yield === undefined ? undefined : Number(options.yield) / 100;
    const split = splitOf(feed!, fines!, coarse!, weighed);
    if (typeof split === 'string') return noAnswer(split);
    const points = gradePoints(split);
    const bare = fitGrade(points, String(options.law));
    if (!bare) return noAnswer('too few sizes hold mass in both streams for a grade efficiency');
    const fit = withAnalyserErrors(bare, { feed: feed!, fines: fines!, coarse: coarse! }, split, weighed);
    const estimate = cutFromSplit((size) => shareBelow(feed!, size) || 0, rangeOf(feed!), split.finesYield);
    const entry = wheelEntry(fit, {
      ...(loading === undefined ? {} : { loading }),
      source: files.map((file) => basename(file)).join(', '),
      closes: split.closes,
    });
    process.stdout.write(
      options.json
        ? asJson(split, points, fit, estimate, entry)
        : asText(split, points, fit, estimate, entry),
    );
    return EXIT.done;
  },
};

/** Density of air at 20 °C and 101.325 kPa [kg/m³]. */
const AIR_DENSITY = humidAirDensity(293.15, 101_325, 0);

/** Loading of the test as stated, or from feed rate and air flow. */
function loadingOf(options: Readonly<Record<string, unknown>>): number | undefined {
  const rate = options['feed-rate'] ?? options.feedRate;
  const { air, loading } = options;
  if (loading !== undefined && (rate !== undefined || air !== undefined))
    throw new InputError([
      { place: '--loading', message: 'give the loading, or --feed-rate and --air, not both' },
    ]);
  if (loading !== undefined) return Number(loading);
  if (rate === undefined && air === undefined) return undefined;
  if (rate === undefined || air === undefined)
    throw new InputError([
      { place: '--feed-rate, --air', message: 'give both, for the loading of the test' },
    ]);
  const values = [
    { place: '--feed-rate', value: parseValue(String(rate), { unit: 'kg/s', shownIn: 'kg/h' }) },
    { place: '--air', value: parseValue(String(air), { unit: 'm^3/s', shownIn: 'm^3/h' }) },
  ];
  const faults = values.flatMap(({ place, value }) => {
    if (isProblem(value)) return [{ place, message: value.problem }];
    return value.value > 0 ? [] : [{ place, message: 'must be above 0' }];
  });
  if (faults.length > 0) throw new InputError(faults);
  const [feed, flow] = values.map(({ value }) => (value as { value: number }).value) as [number, number];
  return feed / (flow * AIR_DENSITY);
}

function noAnswer(reason: string): number {
  process.stderr.write(`${reason}\n`);
  return EXIT.noAnswer;
}

/** All samples of one file are repeats of one stream. */
function meanOf({ file, reading }: NamedReading): MeasuredSample {
  const averaged = averageRepeats(reading.samples);
  if (typeof averaged === 'string') throw new InputError([{ place: file, message: averaged }]);
  return averaged.sample;
}

function rangeOf(sample: MeasuredSample): readonly [number, number] {
  return [sample.points[0]!.size, sample.points[sample.points.length - 1]!.size];
}

function digits(value: number, count = 3): string {
  return Number.isFinite(value) ? Number(value.toPrecision(count)).toString() : '–';
}

function asText(
  split: Split,
  points: readonly GradePoint[],
  fit: GradeFit,
  estimate: number,
  entry: string,
): string {
  const { closure } = split;
  const yieldText = split.given
    ? `${digits(100 * split.finesYield)} % (weighed)`
    : `${digits(100 * split.finesYield)} ± ${digits(100 * split.yieldError, 2)} % (from the curves)`;
  const heading = [
    `cut ${digits(fit.cutSize * 1e6)} µm ± ${digits(100 * fit.errors.logCut, 2)} %, sharpness ${digits(fit.sharpness)} ± ${digits(fit.errors.sharpness, 2)}, bypass ${digits(100 * fit.bypass)} ± ${digits(100 * fit.errors.bypass, 2)} %${fit.leakage > 0 ? `, leakage ${digits(100 * fit.leakage)} ± ${digits(100 * fit.errors.leakage, 2)} %` : ''}`,
    `fines yield ${yieldText}`,
    `closure: largest gap ${digits(100 * closure.largest)} % at ${digits(closure.at * 1e6)} µm, rms ${digits(100 * closure.rms)} % — ${split.closes ? 'the three curves close' : 'the three curves DO NOT close; treat the result as a sketch'}`,
    `${fit.law} misses the points by ${digits(100 * fit.misfit)} % rms; cut from split and feed curve alone ${digits(estimate * 1e6)} µm`,
  ];
  const rows = points.map((point) => [
    digits(point.size * 1e6),
    digits(100 * point.toCoarse),
    digits(100 * point.weight),
  ]);
  return `${heading.join('\n')}\n\n${textTable([['size [µm]', 'to coarse [%]', 'of feed [%]'], ...rows])}\n\n${entry}`;
}

function asJson(
  split: Split,
  points: readonly GradePoint[],
  fit: GradeFit,
  estimate: number,
  entry: string,
): string {
  const body = {
    cutSize_um: fit.cutSize * 1e6,
    sharpness: fit.sharpness,
    bypass: fit.bypass,
    leakage: fit.leakage,
    atBound: fit.atBound,
    law: fit.law,
    standardErrors: {
      cutSize_um: fit.cutSize * fit.errors.logCut * 1e6,
      sharpness: fit.errors.sharpness,
      bypass: fit.errors.bypass,
      leakage: fit.errors.leakage,
    },
    misfit: fit.misfit,
    finesYield: split.finesYield,
    yieldError: split.yieldError,
    closure: {
      largest: split.closure.largest,
      at_um: split.closure.at * 1e6,
      rms: split.closure.rms,
      closes: split.closes,
    },
    cutFromSplit_um: estimate * 1e6,
    points: points.map((point) => ({
      size_um: point.size * 1e6,
      toCoarse: point.toCoarse,
      weight: point.weight,
    })),
    wheelEntry: entry,
  };
  return `${JSON.stringify(body, (_, value) => (Number.isNaN(value) ? null : value), 2)}\n`;
}
