import { InputError } from '../scenario/errors.ts';
import { loadScenario } from '../scenario/load.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { parseValue } from '../scenario/units/parse.ts';
import { isProblem } from '../scenario/units/problem.ts';
import { capacityOf } from '../search/find/capacity.ts';
import { findSupported } from '../search/find/confident.ts';
import { findSettings } from '../search/find/find.ts';
import { relaxedLines } from '../search/find/relaxed.ts';
import { type SearchSpace, searchSpace } from '../search/find/space.ts';
import { checkedTogether } from './checked-together.ts';
import { type Command, EXIT } from './command.ts';
import { findJson } from './find-json.ts';
import { findText } from './find-text.ts';
import type { FindAnswer } from './found-words.ts';

/** Chance of the robust answer beside the nominal one, where none is asked. */
const ROBUST = 0.9;
const LOWEST = 0.5;
const HIGHEST = 0.995;

/** `find FILE`: settings that meet the spec best. */
export const find: Command = {
  usage: 'find <file>',
  summary: 'settings that meet the spec and serve the goal best, what limits them, how far the margin is',
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('json', { type: 'boolean', default: false, describe: 'print the result as JSON' })
      .option('seed', { type: 'number', default: 1, describe: 'seed of the search' })
      .option('confidence', {
        type: 'string',
        describe: 'chance with which the whole spec shall be met, e.g. "95 %"',
      })
      .option('set', {
        type: 'string',
        array: true,
        nargs: 1,
        default: [] as string[],
        describe: 'change a value, e.g. --set air.flow="1600 m^3/h" (repeatable)',
      }),
  run: async (options) => {
    const asked = options.confidence !== undefined;
    const [confidence, seed, { scenario, space }] = await checkedTogether<
      [number, number, { scenario: Scenario; space: SearchSpace }]
    >([
      () => (asked ? confidenceOf(String(options.confidence)) : ROBUST),
      () => seedOf(options.seed),
      async () => searchable(await loadScenario(String(options.file), { set: options.set as string[] })),
    ]);
    const nominal = findSettings(scenario, space, { seed });
    const robust =
      nominal.meets && scenario.spec.length > 0
        ? findSupported(scenario, space, nominal, confidence, seed)
        : undefined;
    const capacity = nominal.meets ? capacityOf(scenario, space, nominal, seed) : undefined;
    const relaxed = nominal.meets ? [] : relaxedLines(scenario, space, seed);
    const answer: FindAnswer = { scenario, space, nominal, robust, asked, capacity, relaxed };
    process.stdout.write(options.json ? findJson(answer) : findText(answer));
    return nominal.meets && !(asked && !robust?.supported) ? EXIT.done : EXIT.noAnswer;
  },
};

function searchable(scenario: Scenario): { scenario: Scenario; space: SearchSpace } {
  if (scenario.spec.length === 0 && !scenario.goal)
    throw new InputError([{ place: 'spec', message: 'find needs a spec or a goal in the scenario' }]);
  const space = searchSpace(scenario);
  if (typeof space === 'string') throw new InputError([{ place: 'sweep.factors', message: space }]);
  return { scenario, space };
}

/**
 * A chance as typed: a bare number counts as per cent, a decimal comma is understood.
 *
 * @throws InputError outside 50 % to 99.5 %
 */
function confidenceOf(text: string): number {
  const typed = text.trim().replace(/^(\d+),(\d+)/, '$1.$2');
  const value = parseValue(/^[\d.]+$/.test(typed) ? `${typed} %` : typed, { unit: '1', shownIn: '%' });
  if (isProblem(value)) throw new InputError([{ place: '--confidence', message: value.problem }]);
  if (value.value >= LOWEST && value.value <= HIGHEST) return value.value;
  const range = `between ${100 * LOWEST} % and ${100 * HIGHEST} %`;
  throw new InputError([{ place: '--confidence', message: `must be ${range}, is ${text}` }]);
}

function seedOf(given: unknown): number {
  const seed = Number(given);
  if (Number.isSafeInteger(seed) && seed >= 0) return seed;
  throw new InputError([{ place: '--seed', message: `must be a whole number ≥ 0, is ${given}` }]);
}
