import { InputError } from '../scenario/errors.ts';
import type { Answer, Cell } from '../sweep/store/query.ts';
import { askApart } from '../sweep/store/query-apart.ts';
import { type Command, EXIT } from './command.ts';
import { refuseOutside } from './number-option.ts';
import { onOneLine } from './terminal-text.ts';

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
      .option('rows', { type: 'number', default: 1000, describe: 'most rows printed' })
      .option('csv', { type: 'boolean', default: false, describe: 'print as CSV' })
      .option('json', { type: 'boolean', default: false, describe: 'print as JSON, one object a row' })
      .example(
        "grindloop sql out/my-case 'select * from points where meetsSpec'",
        'points that meet the spec',
      )
      .example("grindloop sql out/my-case 'select * from columns' --csv", 'heads, units and meanings'),
  run: async (options) => {
    refuseOutside(options, { rows: { whole: true, least: 1, most: MOST_ROWS } });
    if (options.csv && options.json) {
      throw new InputError([{ place: '--csv, --json', message: 'must not both be given; keep one' }]);
    }
    const answer = await askApart(String(options.out), String(options.question), Number(options.rows));
    process.stdout.write(options.json ? json(answer) : options.csv ? csv(answer) : table(answer));
    if (answer.more) process.stderr.write(`more than ${answer.rows.length} rows; --rows N prints more\n`);
    return EXIT.done;
  },
};

/** Columns under each other: numbers to the right, words to the left, each cell on one line. */
function table(answer: Answer): string {
  const heads = answer.heads.map(onOneLine);
  const rows = answer.rows.map((row) => row.map((cell) => onOneLine(textOf(cell))));
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

/** Numbers with the fewest digits that give them back; nothing where there is no value. */
function textOf(cell: Cell): string {
  return cell === null ? '' : String(cell);
}

function csv({ heads, rows }: Answer): string {
  const quoted = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  return [heads, ...rows].map((row) => `${row.map((cell) => quoted(textOf(cell))).join(',')}\n`).join('');
}

function json({ heads, rows }: Answer): string {
  const objects = rows.map((row) => Object.fromEntries(heads.map((head, c) => [head, row[c]])));
  return `${JSON.stringify(objects, null, 2)}\n`;
}
