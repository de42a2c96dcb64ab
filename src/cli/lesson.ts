import { InputError } from '../scenario/errors.ts';
import { demoCase, loadScenario } from '../scenario/load.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { lessonFigures } from '../viz/lesson/figures.ts';
import { lessonOn } from '../viz/lesson/lesson.ts';
import { run as solved } from '../viz/lesson/mill.ts';
import type { Reader } from '../viz/lesson/page.ts';
import { lessonText } from '../viz/write/lesson.ts';
import { type Command, EXIT } from './command.ts';
import { figureOptions, figureWish, writeFigure } from './figure-options.ts';
import { writeWhole } from './write-file.ts';

/** `lesson [FILE] -o FILE`: the teaching page, on the demo or on the lecturer's own material and machine. */
export const lesson: Command = {
  options: (argv) =>
    figureOptions(argv)
      .positional('file', { type: 'string', describe: 'scenario to teach on; the demo if left out' })
      .option('output', { alias: 'o', type: 'string', describe: 'file to write the page to' })
      .option('student', { type: 'boolean', default: false, describe: 'leave the answers out of the file' })
      .option('teacher', {
        type: 'boolean',
        default: false,
        describe: 'add notes, and a worksheet with answers to print',
      })
      .example('grindloop lesson -o lesson.html', 'the page for a talk or for self-study')
      .example('grindloop lesson my-case.yaml -o lesson.html', 'the same on your own material and machine'),
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
    const demo = await loadScenario(demoCase('erythritol'));
    const own = typeof options.file === 'string' ? await loadScenario(options.file) : undefined;
    if (own) checkTeachable(own, String(options.file));
    const scenario = own ?? demo;
    const taught = lessonOn(scenario, demo);
    const written = wish ? await writeFigure(lessonFigures(taught), wish) : [];
    if (typeof options.output === 'string') {
      writeWhole(options.output, lessonText(scenario, reader, own && demo));
      written.unshift(options.output);
    }
    process.stdout.write(`${written.join('\n')}\n`);
    return EXIT.done;
  },
};

/** @throws InputError where the lesson cannot be told on a scenario */
function checkTeachable(scenario: Scenario, place: string): void {
  const faults = [];
  if (scenario.components.length > 1)
    faults.push({
      place,
      message: 'has more than one component; the lesson follows one, so name a file of one',
    });
  if (scenario.machine.circuit === 'open')
    faults.push({
      place,
      message: 'has an open circuit; the lesson needs a wheel that sends particles back',
    });
  else if (!solved(scenario))
    faults.push({
      place,
      message: 'chokes at its settings; the lesson needs settings that run: lower the feed rate',
    });
  if (faults.length > 0) throw new InputError(faults);
}
