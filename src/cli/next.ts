import { documentJson } from '../answers/document-json.ts';
import { gradeSheet } from '../answers/grades/grade-sheet.ts';
import { budgetFor, nextAnswer, USUAL_VISIT } from '../answers/next/next-answer.ts';
import { nextDocument } from '../answers/next/next-document.ts';
import { InputError } from '../scenario/errors.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { emptyLog } from '../trials/log/empty-log.ts';
import { runSheetText } from '../viz/write/run-sheet.ts';
import { checkedTogether } from './collect-faults.ts';
import { type Command, EXIT } from './command.ts';
import { GRADED, loadGraded } from './grade-option.ts';
import { refuseOutside, SEED } from './number-option.ts';
import { sheetText } from './run-sheet-text.ts';
import { settable } from './set-option.ts';
import { writeWhole } from './write-file.ts';

const MOST_TRIALS = 5;
const BOUNDS = {
  trials: { whole: true, least: 1, most: MOST_TRIALS },
  hours: { above: 0, most: 1000 },
  minutes: { above: 0, most: 1000 },
  changeover: { least: 0, most: 1000 },
  wheelchange: { least: 0, most: 1000 },
  seed: SEED,
} as const;

/** `next FILE`: the trials that would teach most, as a run sheet. */
export const next: Command = {
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('trials', {
        type: 'number',
        default: USUAL_VISIT.trials,
        describe: `trials wanted, 1 to ${MOST_TRIALS}`,
      })
      .option('hours', { type: 'number', default: USUAL_VISIT.hours, describe: 'hours available' })
      .option('method', {
        choices: ['laser', 'sieve'] as const,
        default: USUAL_VISIT.method,
        describe: 'how the product will be measured',
      })
      .option('minutes', {
        type: 'number',
        default: USUAL_VISIT.minutes,
        describe: 'minutes of feeding until a sample is taken, sampling included',
      })
      .option('changeover', {
        type: 'number',
        default: USUAL_VISIT.changeover,
        describe: 'minutes between two runs',
      })
      .option('wheelchange', {
        type: 'number',
        default: USUAL_VISIT.wheelchange,
        describe: 'minutes more where the wheel changes',
      })
      .option('here', {
        type: 'boolean',
        default: false,
        describe: 'use the settings of the file, not the best found',
      })
      .option('include', {
        type: 'string',
        array: true,
        nargs: 1,
        default: [] as string[],
        describe:
          'a run to plan whatever it teaches, e.g. "wheel=long-leaning, wheelSpeed=1500 rpm, feedRate=200 kg/h" (repeatable)',
      })
      .option('output', {
        alias: 'o',
        type: 'string',
        describe: 'write the run sheet to this file too; a page to print where it ends in .html',
      })
      .option('log', {
        type: 'string',
        describe:
          'write the trial log of this plan: settings and predicted readings; does not replace an existing file',
      })
      .option('seed', { type: 'number', default: USUAL_VISIT.seed, describe: 'seed of the search' })
      .option('json', { type: 'boolean', default: false, describe: 'print the result as JSON' })
      .option('grade', GRADED)
      .option('set', settable('change a value, e.g. --set powder.have="8 kg" (repeatable)'))
      .example('grindloop next my-case.yaml -o sheet.html', 'the trials to run, as a sheet to print')
      .example('grindloop next my-case.yaml --hours 3 --trials 2', 'what fits into three hours'),
  run: async (options) => {
    const [, scenario] = await checkedTogether<[unknown, Scenario]>([
      () => refuseOutside(options, BOUNDS),
      () => loadGraded(String(options.file), options),
    ]);
    if (scenario.grades) return giveGradeSheet(scenario, options);
    const { sheet, keys, found, lines } = nextAnswer(scenario, {
      ...visitFrom(options),
      trials: Number(options.trials),
      method: options.method === 'sieve' ? 'sieve' : 'laser',
      seed: Number(options.seed),
      include: await included(options),
      here: options.here === true,
    });
    const text = sheetText(sheet);
    // first on the terminal: a sheet that cannot be written is not lost
    process.stdout.write(options.json ? documentJson(nextDocument(sheet, keys, found)) : text);
    if (typeof options.log === 'string') writeWhole(options.log, emptyLog(lines), 'never');
    if (typeof options.output === 'string')
      writeWhole(options.output, /\.html?$/i.test(options.output) ? runSheetText(sheet) : text);
    return found ? EXIT.done : EXIT.noAnswer;
  },
};

/** What the options say of the visit. */
function visitFrom(options: Readonly<Record<string, unknown>>) {
  const number = (name: string): number => Number(options[name]);
  return {
    hours: number('hours'),
    minutes: number('minutes'),
    changeover: number('changeover'),
    wheelchange: number('wheelchange'),
  };
}

/** The sheet of a visit that makes every grade of the file, one run a grade. */
function giveGradeSheet(scenario: Scenario, options: Readonly<Record<string, unknown>>): number {
  const stated = ['here', ...((options.include as string[]).length > 0 ? ['include'] : [])].filter(
    (name) => name === 'include' || options[name] === true,
  );
  if (stated.length > 0)
    throw new InputError(
      stated.map((name) => ({ place: `--${name}`, message: 'is about one grade; name it with --grade' })),
    );
  const { sheet, lines, keys, found } = gradeSheet(
    scenario,
    budgetFor(scenario, visitFrom(options)),
    Number(options.seed),
    options.method === 'sieve' ? 'sieve' : 'laser',
  );
  const text = sheetText(sheet);
  process.stdout.write(options.json ? documentJson(nextDocument(sheet, keys, found)) : text);
  if (typeof options.log === 'string') writeWhole(options.log, emptyLog(lines), 'never');
  if (typeof options.output === 'string')
    writeWhole(options.output, /\.html?$/i.test(options.output) ? runSheetText(sheet) : text);
  return found ? EXIT.done : EXIT.noAnswer;
}

/** Scenarios at the settings of each `--include`; what it leaves out is as the file has it. */
async function included(options: Readonly<Record<string, unknown>>): Promise<Scenario[]> {
  const scenarios: Scenario[] = [];
  for (const text of options.include as string[]) {
    const pairs = text.split(',').map((pair) => pair.trim());
    const odd = pairs.filter((pair) => !/^[A-Za-z]+ *=./.test(pair));
    if (odd.length > 0)
      throw new InputError(
        odd.map((pair) => ({
          place: '--include',
          message: `must be name=value, e.g. feedRate=200 kg/h, is "${pair.slice(0, 60)}"`,
        })),
      );
    const set = [...(options.set as string[]), ...pairs.map((pair) => `settings.${pair}`)];
    scenarios.push(await loadGraded(String(options.file), { set, grade: options.grade }, true));
  }
  return scenarios;
}
