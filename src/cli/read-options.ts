import type { Argv } from 'yargs';
import { CHOICES, type ReadOptions } from '../scenario/measurement/reading-questions.ts';
import { refuseOutside } from './number-option.ts';

const MEANING = {
  encoding: 'encoding of the file',
  separator: 'what parts the cells',
  decimal: 'decimal sign',
  unit: 'unit of the sizes',
  series: 'sieve series a mesh number belongs to',
  kind: 'what the values are',
  values: 'percent or fractions of one',
  sizes: 'where in its class a size lies',
  basis: 'what the values count',
  method: 'how the particles were measured',
  missing: 'where mass lies that the classes do not sum to',
} as const;

/** The options by which a user states what a measured file leaves open. */
export function readOptions(argv: Argv): Argv {
  let options = argv;
  for (const [name, choices] of Object.entries(CHOICES)) {
    options = options.option(name, {
      type: 'string',
      choices: [...choices],
      describe: MEANING[name as keyof typeof MEANING],
      group: 'What the file leaves open:',
    });
  }
  return options
    .option('columns', {
      type: 'string',
      describe: 'headings in order, e.g. "size um, undersize %"',
      group: 'What the file leaves open:',
    })
    .option('total', {
      type: 'number',
      describe: 'mass put on the sieves, in the unit of the masses',
      group: 'What the file leaves open:',
    });
}

/** Stated options of a parsed command line. */
export function statedOptions(options: Readonly<Record<string, unknown>>): ReadOptions {
  refuseOutside(options, { total: { above: 0, most: 1e9 } });
  const stated: Record<string, unknown> = {};
  for (const name of [...Object.keys(CHOICES), 'total']) {
    if (options[name] !== undefined) stated[name] = options[name];
  }
  if (typeof options.columns === 'string') stated.columns = options.columns.split(/\s*[,;]\s*/);
  return stated as ReadOptions;
}
