import { plantDocument, safetyDocument } from '../answers/plant/plant-document.ts';
import type { Command } from './command.ts';
import { documentOptions, giveDocument, givingOf } from './document-output.ts';
import { GRADED, loadGraded } from './grade-option.ts';
import { settable } from './set-option.ts';

/** `plant FILE`: what stands around the mill at an operating point. */
export const plant: Command = {
  options: (argv) =>
    documentOptions(argv)
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('safety', {
        type: 'boolean',
        default: false,
        describe:
          'every line of the dust and run-down screening with its caution, and the questions to answer first',
      })
      .option('grade', GRADED)
      .option('set', settable('change a value, e.g. --set plant.filter.bags=24 (repeatable)'))
      .example('grindloop plant my-case.yaml -o plant.html', 'the answer on the terminal and as a page')
      .example('grindloop plant my-case.yaml --safety', 'the screening of dust and rotating parts in full'),
  run: async (options) => {
    const scenario = await loadGraded(String(options.file), options);
    const document = options.safety ? safetyDocument(scenario) : plantDocument(scenario);
    return giveDocument(document, givingOf(options, scenario.text));
  },
};
