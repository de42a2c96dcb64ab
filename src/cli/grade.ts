import { basename } from 'node:path';
import { gradeAnswer } from '../answers/grade/grade-answer.ts';
import { gradeDocument } from '../answers/grade/grade-document.ts';
import { humidAirDensity } from '../model/air.ts';
import { EFFICIENCY_LAWS } from '../model/wheel/efficiency/index.ts';
import { InputError } from '../scenario/errors.ts';
import type { ReadOptions } from '../scenario/measurement/reading-questions.ts';
import { parseValue } from '../scenario/units/parse-quantity.ts';
import { isProblem } from '../scenario/units/unit-problem.ts';
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
        .example('grindloop grade feed.csv fines.csv coarse.csv', 'cut, sharpness and bypass of a wheel')
        .example(
          'grindloop grade feed.csv fines.csv coarse.csv --yield 32 -o grade.html',
          'the same as a page',
        ),
    ),
  run: async (options) => {
    const [, stated, loading] = await checkedTogether<[unknown, ReadOptions, number | undefined]>([
      () => refuseOutside(options, { yield: { above: 0, most: 100 }, loading: { above: 0, most: 20 } }),
      () => statedOptions(options),
      () => loadingOf(options),
    ]);
    const files = [options.feed, options.fines, options.coarse].map(String);
    const readings = await readAll(files, stated);
    const names = files.map((file) => basename(file)).join(', ');
    const graded = gradeAnswer(readings, {
      law: String(options.law),
      weighed: options.yield === undefined ? undefined : Number(options.yield) / 100,
      loading,
      source: names,
    });
    if (typeof graded === 'string') return noAnswer(graded);
    return giveDocument(gradeDocument(graded, `Grade efficiency: ${names}`), givingOf(options));
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
