import { timeDocument } from '../answers/time/time-document.ts';
import type { Command } from './command.ts';
import { documentOptions, giveDocument, givingOf } from './document-output.ts';
import { GRADED, loadGraded } from './grade-option.ts';
import { settable } from './set-option.ts';

/** `time FILE`: the same balance against time. */
export const time: Command = {
  options: (argv) =>
    documentOptions(argv)
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('quiet-feeder', {
        type: 'boolean',
        default: false,
        describe: 'hold the feed exactly: no noise',
      })
      .option('grade', GRADED)
      .option('set', settable('change a value, e.g. --set time.duration="30 min" (repeatable)'))
      .example('grindloop time my-case.yaml -o start-up.html', 'start-up on the terminal and as a page')
      .example(
        'grindloop time my-case.yaml --set time.duration="2 h" --quiet-feeder',
        'warm-up without noise',
      ),
  run: async (options) => {
    const scenario = await loadGraded(String(options.file), options);
    const document = timeDocument(scenario, options['quiet-feeder'] === true);
    return giveDocument(document, givingOf(options, scenario.text));
  },
};
