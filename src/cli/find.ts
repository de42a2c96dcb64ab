import { findAnswer, searchable } from '../answers/find/find-answer.ts';
import { findDocument } from '../answers/find/find-document.ts';
import { gradesAnswer } from '../answers/grades/grades-answer.ts';
import { gradesDocument } from '../answers/grades/grades-document.ts';
import { InputError } from '../scenario/errors.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { parseValue } from '../scenario/units/parse-quantity.ts';
import { isProblem } from '../scenario/units/unit-problem.ts';
import { checkedTogether } from './collect-faults.ts';
import type { Command } from './command.ts';
import { documentOptions, giveDocument, givingOf } from './document-output.ts';
import { GRADED, loadGraded } from './grade-option.ts';
import { refuseOutside, SEED } from './number-option.ts';
import { settable } from './set-option.ts';

const LOWEST = 0.5;
const HIGHEST = 0.995;

/** `find FILE`: settings that meet the spec best. */
export const find: Command = {
  options: (argv) =>
    documentOptions(argv)
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('seed', { type: 'number', default: 1, describe: 'seed of the search' })
      .option('confidence', {
        type: 'string',
        describe: 'required probability of meeting the whole spec, e.g. "95 %"',
      })
      .option('grade', GRADED)
      .option('set', settable('change a value, e.g. --set air.flow="1600 m^3/h" (repeatable)'))
      .example('grindloop find my-case.yaml -o find.html', 'settings that meet the spec best, as a page too')
      .example(
        'grindloop find my-case.yaml --confidence "95 %"',
        'settings that meet it with this probability',
      ),
  run: async (options) => {
    const asked = options.confidence !== undefined;
    const [confidence, , scenario] = await checkedTogether<[number | undefined, undefined, Scenario]>([
      () => (asked ? confidenceOf(String(options.confidence)) : undefined),
      () => {
        refuseOutside(options, { seed: SEED });
        return undefined;
      },
      async () => loadGraded(String(options.file), options),
    ]);
    const seed = Number(options.seed);
    if (scenario.grades) {
      const document = gradesDocument(gradesAnswer(scenario, seed, confidence));
      return giveDocument(document, givingOf(options, scenario.text));
    }
    const answer = findAnswer(searchable(scenario, asked), seed, confidence);
    const found = confidence === undefined ? answer.nominal.meets : answer.robust?.supported === true;
    return giveDocument(findDocument(answer, found), givingOf(options, scenario.text));
  },
};

/**
 * A probability as typed: a bare number counts as per cent, a decimal comma is understood.
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
