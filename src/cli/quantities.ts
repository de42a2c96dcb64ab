import { QUANTITIES } from '../scenario/outcome/quantities.ts';
import { labelOf } from '../scenario/units/display.ts';
import { columnsOf } from './columns.ts';
import { type Command, EXIT } from './command.ts';

const NOTE = [
  'Any percentile can be named, e.g. x42 or x97.5. passing(…) and oversize(…) take a size: passing(75 um) >= 95 %.',
  'A spec or goal may compute with quantities and numbers (+ − * /, brackets) and compare (>= <= > <), nothing else.',
].join('\n');

/** `quantities`: what a spec, goal, sweep or table can name. */
export const quantities: Command = {
  options: (argv) =>
    argv
      .option('json', { type: 'boolean', default: false, describe: 'print as JSON' })
      .example('grindloop quantities', 'name, unit, symbol and meaning of each'),
  run: async (options) => {
    process.stdout.write(options.json ? `${JSON.stringify(asData(), null, 2)}\n` : asText());
    return EXIT.done;
  },
};

function asData() {
  return QUANTITIES.map(({ name, symbol, shownIn, group, key, column, meaning, argument }) => ({
    name,
    symbol,
    unit: shownIn,
    meaning,
    argument: argument ?? null,
    // one that needs an argument stands in no fixed place
    json: argument ? null : `${group}.${key}`,
    column,
  }));
}

function asText(): string {
  const rows = QUANTITIES.map(({ name, argument, symbol, shownIn, meaning }) => [
    argument ? `${name}(${argument})` : name,
    labelOf(shownIn),
    symbol,
    meaning,
  ]);
  return `${columnsOf([['name', 'unit', 'symbol', 'meaning'], ...rows])}\n\n${NOTE}\n`;
}
