import type { Table } from '../answers/table.ts';
import { openingOf } from '../answers/verdict-words.ts';
import { SAFETY_CAUTION } from '../plant/safety/checklist.ts';
import { InputError } from '../scenario/errors.ts';
import { loadScenario } from '../scenario/load.ts';
import { quantityNamed } from '../scenario/outcome/quantities.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { parseValue } from '../scenario/units/parse.ts';
import { isProblem } from '../scenario/units/problem.ts';
import { type Comparison, compareWheels } from '../search/compare/comparison.ts';
import { programVersion } from '../sweep/store/version.ts';
import { comparisonPage } from '../viz/compare/page.ts';
import { rotorColumns, rotorFindings } from '../viz/compare/rotor-words.ts';
import { findings, heldWords, targetWords, wheelColumns, worthTable } from '../viz/compare/words.ts';
import { reportText } from '../viz/write/report.ts';
import { checkedTogether } from './collect-faults.ts';
import { columnsOf } from './columns.ts';
import { type Command, EXIT } from './command.ts';
import { type FigureWish, figureOptions, figureWish, writeFigure } from './figure-options.ts';
import { settable } from './set-option.ts';
import { writeWhole } from './write-file.ts';

/** `compare FILE`: wheels, and rotors where the file names others, side by side at equal fineness. */
export const compare: Command = {
  options: (argv) =>
    figureOptions(argv)
      .positional('file', { type: 'string', describe: 'scenario with its wheels', demandOption: true })
      .option('by', { type: 'string', default: 'x95', describe: 'quantity in which wheels are matched' })
      .option('at', { type: 'string', describe: 'its value, e.g. "65 um"; the scenario\'s own unless given' })
      .option('fines', { type: 'string', default: '10 um', describe: 'size below which fines are counted' })
      .option('output', { alias: 'o', type: 'string', describe: 'write the page here' })
      .option('set', settable('change a value (repeatable)')),
  run: async (options) => {
    const [wish, match, fines, scenario] = await checkedTogether<
      [FigureWish | undefined, Matching, number, Scenario]
    >([
      () => figureWish(options),
      () => matchingOf(String(options.by), options.at as string | undefined),
      () => numberFrom('--fines', String(options.fines), { unit: 'm', shownIn: 'um' }),
      () => loadScenario(String(options.file), { set: options.set as string[] }),
    ]);
    const comparison = compareWheels(scenario, { ...match, fines });
    const written: string[] = [];
    if (typeof options.output === 'string' || wish) {
      const made = { version: programVersion(), date: new Date().toISOString().slice(0, 10) };
      const page = comparisonPage(scenario, comparison, made);
      if (wish) written.push(...(await writeFigure(page.offer, wish)));
      if (typeof options.output === 'string') {
        writeWhole(options.output, reportText(page));
        written.unshift(options.output);
      }
    }
    process.stdout.write(summary(scenario, comparison, written));
    const all = [...comparison.wheels, ...(comparison.rotors ?? [])];
    return all.some(({ matched }) => matched.reached) ? EXIT.done : EXIT.noAnswer;
  },
};

function summary(scenario: Scenario, comparison: Comparison, written: readonly string[]): string {
  const worth = worthTable(comparison);
  return [
    `${scenario.title}: wheels at ${targetWords(comparison)}, ${heldWords(scenario, comparison)}`,
    '',
    `${openingOf(scenario)} ${findings(scenario, comparison).join('\n')}`,
    '',
    plain(wheelColumns(comparison)),
    ...(comparison.rotors
      ? ['', ...rotorFindings(scenario, comparison), '', plain(rotorColumns(comparison))]
      : []),
    ...(worth ? ['', `What measuring would be worth on ${comparison.worth!.wheel}:`, plain(worth)] : []),
    '',
    SAFETY_CAUTION,
    ...(written.length > 0 ? ['', ...written] : []),
    '',
  ].join('\n');
}

/** What wheels are matched in, and its value [SI] where one was stated. */
interface Matching {
  readonly quantity: string;
  readonly value?: number;
}

function matchingOf(quantity: string, at: string | undefined): Matching {
  const known = quantityNamed(quantity);
  if (!known || known.argument !== undefined) {
    const message = `no quantity ${quantity} to match in; e.g. x95, x50, d32`;
    throw new InputError([{ place: '--by', message }]);
  }
  return { quantity, ...(at === undefined ? {} : { value: numberFrom('--at', at, known) }) };
}

function numberFrom(place: string, text: string, wanted: { unit: string; shownIn: string }): number {
  const parsed = parseValue(text, wanted);
  if (isProblem(parsed)) throw new InputError([{ place, message: parsed.problem }]);
  return parsed.value;
}

function plain({ heads, rows }: Table): string {
  return columnsOf([heads, ...rows]);
}
