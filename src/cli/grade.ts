import { basename } from 'node:path';
import { gradeDocument } from '../answers/grade/grade-document.ts';
import type { NamedReading } from '../answers/read/read-keys.ts';
import { EFFICIENCY_LAWS } from '../model/wheel/efficiency/index.ts';
import { InputError } from '../scenario/errors.ts';
import { shareBelow } from '../scenario/measurement/measured-curve.ts';
import type { MeasuredSample } from '../scenario/measurement/measured-sample.ts';
import type { ReadOptions } from '../scenario/measurement/read-options.ts';
import { averageRepeats } from '../scenario/measurement/replicates.ts';
import { cutFromSplit, fitGrade, gradePoints } from '../trials/grade/efficiency.ts';
import { splitOf } from '../trials/grade/split.ts';
import { mixedMethods } from '../trials/method.ts';
import { checkedTogether } from './collect-faults.ts';
import { type Command, EXIT } from './command.ts';
import { documentOptions, giveDocument, givingOf } from './document-output.ts';
import { refuseOutside } from './number-option.ts';
import { readAll } from './read-all.ts';
import { readOptions, statedOptions } from './read-options.ts';

/** `grade FEED FINES COARSE`: how sharply a wheel sorted, from three measured curves. */
export const grade: Command = {
  options: (argv) =>
    readOptions(
      documentOptions(argv)
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
        .example('grindloop grade feed.csv fines.csv coarse.csv', 'cut, sharpness and bypass of a wheel')
        .example(
          'grindloop grade feed.csv fines.csv coarse.csv --yield 32 -o grade.html',
          'the same as a page',
        ),
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
    const title = `Grade efficiency: ${files.map((file) => basename(file)).join(', ')}`;
    return giveDocument(gradeDocument({ split, points, fit, estimate }, title), givingOf(options));
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
