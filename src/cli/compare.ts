import {
  compared,
  type UnderstoodWish,
  USUAL_COMPARISON,
  understood,
} from '../answers/compare/compare-answer.ts';
import { compareDocument } from '../answers/compare/compare-document.ts';
import { documentJson } from '../answers/document-json.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { programVersion } from '../sweep/store/version.ts';
import { comparisonPage } from '../viz/compare/page.ts';
import { reportText } from '../viz/write/report.ts';
import { checkedTogether } from './collect-faults.ts';
import { type Command, EXIT } from './command.ts';
import { documentOptions } from './document-output.ts';
import { type FigureWish, figureOptions, figureWish, writeFigure } from './figure-options.ts';
import { GRADED, loadGraded } from './grade-option.ts';
import { printedDocument } from './print-document.ts';
import { settable } from './set-option.ts';
import { writeWhole } from './write-file.ts';

/** `compare FILE`: wheels, and rotors where the file names others, side by side at equal fineness. */
export const compare: Command = {
  options: (argv) =>
    documentOptions(figureOptions(argv))
      .positional('file', { type: 'string', describe: 'scenario with its wheels', demandOption: true })
      .option('by', {
        type: 'string',
        default: USUAL_COMPARISON.by,
        describe: 'what wheels are matched in: a size or a share of the product, or an expression of them',
      })
      .option('at', {
        type: 'string',
        describe: 'its value with unit, e.g. "65 um"; the scenario\'s own unless given',
      })
      .option('fines', {
        type: 'string',
        default: USUAL_COMPARISON.fines,
        describe: 'size below which fines are counted',
      })
      .option('grade', GRADED)
      .option('set', settable('change a value, e.g. --set settings.feedRate="200 kg/h" (repeatable)'))
      .example(
        'grindloop compare my-case.yaml -o wheels.html',
        'every wheel at the x95 of the file, as a page',
      )
      .example('grindloop compare my-case.yaml --by "passing(75 um)" --at "95 %"', 'matched in a share'),
  run: async (options) => {
    const [wish, understanding, scenario] = await checkedTogether<
      [FigureWish | undefined, UnderstoodWish, Scenario]
    >([
      () => figureWish(options),
      () =>
        understood({
          by: String(options.by),
          at: options.at as string | undefined,
          fines: String(options.fines),
        }),
      () => loadGraded(String(options.file), options),
    ]);
    const comparison = compared(scenario, understanding);
    const document = compareDocument(scenario, comparison);
    const written: string[] = [];
    if (typeof options.output === 'string' || wish) {
      const made = { version: programVersion(), date: new Date().toISOString().slice(0, 10) };
      const page = comparisonPage(scenario, comparison, made, document);
      if (wish) written.push(...(await writeFigure(page.offer, wish)));
      if (typeof options.output === 'string') {
        writeWhole(options.output, reportText(page));
        written.unshift(options.output);
      }
    }
    process.stdout.write(options.json ? documentJson(document) : printedDocument(document, written));
    return document.found ? EXIT.done : EXIT.noAnswer;
  },
};
