import { InputError } from '../scenario/errors.ts';
import { demoCase, loadScenario } from '../scenario/load.ts';
import { lessonFigures } from '../viz/lesson/figures.ts';
import { lessonOn } from '../viz/lesson/lesson.ts';
import type { Reader } from '../viz/lesson/page.ts';
import { lessonText } from '../viz/write/lesson.ts';
import { type Command, EXIT } from './command.ts';
import { figureOptions, figureWish, writeFigure } from './figure-options.ts';
import { writeWhole } from './write-file.ts';

/** `lesson -o FILE`: the teaching page. */
export const lesson: Command = {
  options: (argv) =>
    figureOptions(argv)
      .option('output', { alias: 'o', type: 'string', describe: 'file to write the page to' })
      .option('student', { type: 'boolean', default: false, describe: 'leave the answers out of the file' })
      .option('teacher', {
        type: 'boolean',
        default: false,
        describe: 'add notes, and a worksheet with answers to print',
      })
      .example('grindloop lesson -o lesson.html', 'the page for a talk or for self-study')
      .example('grindloop lesson -o student.html --student', 'the same without answers'),
  run: async (options) => {
    if (options.student === true && options.teacher === true) {
      throw new InputError([{ place: 'command line', message: 'name --student or --teacher, not both' }]);
    }
    const reader: Reader =
      options.student === true ? 'student' : options.teacher === true ? 'teacher' : 'all';
    const wish = figureWish(options);
    if (options.output === undefined && !wish) {
      throw new InputError([{ place: 'command line', message: 'name the file to write: -o FILE' }]);
    }
    const scenario = await loadScenario(demoCase('erythritol'));
    const written = wish ? await writeFigure(lessonFigures(lessonOn(scenario)), wish) : [];
    if (typeof options.output === 'string') {
      writeWhole(options.output, lessonText(scenario, reader));
      written.unshift(options.output);
    }
    process.stdout.write(`${written.join('\n')}\n`);
    return EXIT.done;
  },
};
