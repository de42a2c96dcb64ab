import { textTable } from '../answers/text-table.ts';
import { EFFICIENCY_LAWS } from '../model/wheel/efficiency/index.ts';
import { InputError } from '../scenario/errors.ts';
import { shareBelow } from '../scenario/measurement/measured-curve.ts';
import type { MeasuredSample } from '../scenario/measurement/measured-sample.ts';
import type { ReadOptions } from '../scenario/measurement/read-options.ts';
import { averageRepeats } from '../scenario/measurement/replicates.ts';
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
  usage: 'grade <feed> <fines> <coarse>',
  summary: 'grade efficiency from three measured curves: closure, cut, sharpness, bypass, as a wheel entry',
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
        .option('law', {
          type: 'string',
          default: 'rosin-rammler',
          choices: Object.keys(EFFICIENCY_LAWS),
          describe: 'grade-efficiency law to fit',
        })
        .option('json', { type: 'boolean', default: false, describe: 'print the result as JSON' }),
    ),
  run: async (options) => {
    const [, stated] = await checkedTogether<[unknown, ReadOptions]>([
      () => refuseOutside(options, { yield: { above: 0, most: 100 } }),
      () => statedOptions(options),
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
    const fit = fitGrade(points, String(options.law));
    if (!fit) return noAnswer('too few sizes hold mass in both streams for a grade efficiency');
    const estimate = cutFromSplit((size) => shareBelow(feed!, size) || 0, rangeOf(feed!), split.finesYield);
    process.stdout.write(
      options.json ? asJson(split, points, fit, estimate) : asText(split, points, fit, estimate),
    );
    return EXIT.done;
  },
};

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

function asText(split: Split, points: readonly GradePoint[], fit: GradeFit, estimate: number): string {
  const { closure } = split;
  const yieldText = split.given
    ? `${digits(100 * split.finesYield)} % (weighed)`
    : `${digits(100 * split.finesYield)} ± ${digits(100 * split.yieldError, 2)} % (from the curves)`;
  const heading = [
    `cut ${digits(fit.cutSize * 1e6)} µm ± ${digits(100 * fit.errors.logCut, 2)} %, sharpness ${digits(fit.sharpness)} ± ${digits(fit.errors.sharpness, 2)}, bypass ${digits(100 * fit.bypass)} ± ${digits(100 * fit.errors.bypass, 2)} %`,
    `fines yield ${yieldText}`,
    `closure: largest gap ${digits(100 * closure.largest)} % at ${digits(closure.at * 1e6)} µm, rms ${digits(100 * closure.rms)} % — ${split.closes ? 'the three curves close' : 'the three curves DO NOT close; treat the result as a sketch'}`,
    `${fit.law} misses the points by ${digits(100 * fit.misfit)} % rms; cut from split and feed curve alone ${digits(estimate * 1e6)} µm`,
  ];
  const rows = points.map((point) => [
    digits(point.size * 1e6),
    digits(100 * point.toCoarse),
    digits(100 * point.weight),
  ]);
  return `${heading.join('\n')}\n\n${textTable([['size [µm]', 'to coarse [%]', 'of feed [%]'], ...rows])}\n\n${wheelEntry(fit)}`;
}

function asJson(split: Split, points: readonly GradePoint[], fit: GradeFit, estimate: number): string {
  const body = {
    cutSize_um: fit.cutSize * 1e6,
    sharpness: fit.sharpness,
    bypass: fit.bypass,
    law: fit.law,
    standardErrors: {
      cutSize_um: fit.cutSize * fit.errors.logCut * 1e6,
      sharpness: fit.errors.sharpness,
      bypass: fit.errors.bypass,
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
    wheelEntry: wheelEntry(fit),
  };
  return `${JSON.stringify(body, (_, value) => (Number.isNaN(value) ? null : value), 2)}\n`;
}
