import type { Answer } from '../sweep/store/query.ts';
import { type Command, EXIT } from './command.ts';
import { refuseOutside } from './number-option.ts';

/** Rows a table of text holds at most. */
const MOST_ROWS = 1_000_000;

/** `sql OUT "…"`: asks the store. */
export const sql: Command = {
  options: (argv) =>
    argv
      .positional('out', { type: 'string', describe: 'as given to sweep -o', demandOption: true })
      .positional('question', {
        type: 'string',
        describe: 'tables: points, columns (heads, units, meanings), curves, study, chunks',
        demandOption: true,
      })
      .option('rows', { type: 'number', default: 1000, describe: 'most rows printed' }),
  run: async (options) => {
    refuseOutside(options, { rows: { whole: true, least: 1, most: MOST_ROWS } });
    const { ask } = await import('../sweep/store/query.ts');
    const answer = await ask(String(options.out), String(options.question), Number(options.rows));
    process.stdout.write(table(answer));
    if (answer.more) process.stderr.write(`more than ${answer.rows.length} rows; --rows N prints more\n`);
    return EXIT.done;
  },
};

/** Columns under each other: numbers to the right, words to the left. */
function table({ heads, rows }: Answer): string {
  const widths = heads.map((head, c) =>
    rows.reduce((most, row) => Math.max(most, row[c]!.length), head.length),
  );
  const numeric = heads.map((_, c) => rows.every((row) => row[c] === '' || Number.isFinite(Number(row[c]))));
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, c) => (numeric[c] ? cell.padStart(widths[c]!) : cell.padEnd(widths[c]!)))
      .join('  ')
      .trimEnd();
  const rule = widths.map((width) => '-'.repeat(width)).join('  ');
  return `${[line(heads), rule, ...rows.map(line)].join('\n')}\n`;
}
