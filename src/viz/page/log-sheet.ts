import { LOG_FILE, logNameIn } from '../../answers/desk/campaign-log.ts';
import type { CaseFiles } from '../../answers/desk/desk-files.ts';
import { readLogHeading } from '../../trials/log/columns.ts';
import { type CsvTable, csvTable, csvText, isNote } from '../../trials/log/csv-table.ts';
import { emptyLog, SETTING_UNITS } from '../../trials/log/empty-log.ts';

/** A run of the log: its place among the rows, and its name where it has one. */
export interface SheetRun {
  readonly row: number;
  readonly name: string;
}

/** The trial log as cells to type in; every change gives the file anew. */
export class LogSheet {
  /** Name of the file. */
  readonly name: string;
  readonly separator: CsvTable['separator'];
  readonly before: CsvTable['before'];
  readonly heads: string[];
  readonly units: string[] | undefined;
  readonly rows: string[][];

  private constructor(name: string, table: CsvTable) {
    const width = Math.max(table.head.cells.length, ...table.body.map(({ cells }) => cells.length));
    const whole = (cells: readonly string[]) => Array.from({ length: width }, (_, i) => cells[i] ?? '');
    this.name = name;
    this.separator = table.separator;
    this.before = table.before;
    this.heads = whole(table.head.cells);
    this.units = table.units ? whole(table.units) : undefined;
    this.rows = table.body.map(({ cells }) => whole(cells));
  }

  /** The log among the files; an empty one where there is none, undefined where it is no table. */
  static of(files: CaseFiles['files']): LogSheet | undefined {
    const name = logNameIn(files);
    if (name !== undefined && /\.ya?ml$/i.test(name)) return undefined;
    const text = name === undefined ? emptyLog([]) : new TextDecoder().decode(files[name]);
    const table = csvTable(text);
    return table && new LogSheet(name ?? LOG_FILE, table);
  }

  get text(): string {
    const line = (cells: readonly string[]) => ({ cells, line: 0 });
    const { separator, before, heads, units, rows } = this;
    return csvText({
      separator,
      before,
      head: line(heads),
      ...(units ? { units } : {}),
      body: rows.map(line),
    });
  }

  /** Runs in order; lines that are notes are none. */
  get runs(): SheetRun[] {
    return this.rows.flatMap((cells, row) =>
      isNote(cells) || cells.every((cell) => cell === '')
        ? []
        : [{ row, name: this.cell(row, 'trial') || `${row + 1}` }],
    );
  }

  /** Place of a column by its name in a log; -1 where there is none. */
  column(name: string): number {
    return this.heads.findIndex((heading) => readLogHeading(heading).column?.name === name);
  }

  cell(row: number, name: string): string {
    return this.rows[row]?.[this.column(name)] ?? '';
  }

  /** Writes a cell by its column's name; a column that is missing is added. */
  put(row: number, name: string, value: string): void {
    let at = this.column(name);
    if (at < 0) {
      at = this.heads.length;
      this.heads.push(name);
      this.units?.push('');
      for (const cells of this.rows) cells.push('');
    }
    this.rows[row]![at] = value;
  }

  /** A new run with a name that no other has. */
  add(): number {
    const taken = new Set(this.runs.map(({ name }) => name));
    let number = this.runs.length + 1;
    while (taken.has(`${number}`)) number++;
    this.rows.push(this.heads.map(() => ''));
    this.put(this.rows.length - 1, 'trial', `${number}`);
    return this.rows.length - 1;
  }

  remove(row: number): void {
    this.rows.splice(row, 1);
  }

  /** A planned run, its cells by column in the units of an empty log. */
  addPlanned(planned: Readonly<Record<string, string>>): void {
    const row = this.add();
    for (const [name, value] of Object.entries(planned))
      if (name !== 'trial') this.put(row, name, this.withUnit(name, value));
  }

  /** Files a run's sizes are in. */
  filesOf(row: number): string[] {
    return this.cell(row, 'sizes')
      .split(/\s*[;|+]\s*/)
      .filter(Boolean);
  }

  /** Lays a size file to a run, and takes it from every other; -1 takes it from all. */
  assign(file: string, to: number): void {
    this.rows.forEach((_, row) => {
      const own = this.filesOf(row).filter((name) => name !== file);
      if (row === to) this.put(row, 'sizes', [...own, file].join(' + '));
      else if (this.filesOf(row).includes(file)) this.put(row, 'sizes', own.join(' + '));
    });
  }

  /** A number in the unit of an empty log, as this log's column takes it. */
  private withUnit(name: string, value: string): string {
    const given = SETTING_UNITS[name] ?? readLogHeading(name).column?.shownIn;
    if (given === undefined || !/^[\d.]+$/.test(value)) return value;
    const at = this.column(name);
    const own = at < 0 ? '' : readLogHeading(this.heads[at]!).unit || this.units?.[at] || '';
    return own === given && /^\d+$/.test(value) ? value : `${value} ${given}`;
  }
}
