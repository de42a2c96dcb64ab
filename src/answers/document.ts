/**
 * An answer of a command as plain data: what it says, its tables, and the numbers of its figures. It is computed once and
 * written three ways: on a terminal, as JSON, and as a page.
 */
export interface AnswerDocument {
  /** Command that answers: `plant`. */
  readonly command: string;
  /** Whether there is an answer; false where the mill chokes or nothing meets what is required. */
  readonly found: boolean;
  /** Title of the case. */
  readonly title: string;
  /** The job's own words: lot, operator … */
  readonly job?: Readonly<Record<string, string>>;
  /** How far the answer can be trusted, before its first sentence: `Uncalibrated estimate:`. */
  readonly opening?: string;
  /** The answer; its first sentence stands alone where there is room for one only. */
  readonly answer: readonly string[];
  readonly sections: readonly Section[];
  /** What a reader should know of the input and of the model. */
  readonly notes: readonly string[];
  /** What can hurt someone. */
  readonly cautions: readonly string[];
  /** The command's own keys of `--json`, stable, each with its unit. */
  readonly keys: Readonly<Record<string, unknown>>;
}

/** A part of an answer: sentences, then figures, then tables, then a listing. */
export interface Section {
  /** Anchor in the page: `air-path`. */
  readonly id: string;
  readonly heading: string;
  readonly sentences?: readonly string[];
  readonly figures?: readonly FigureReference[];
  readonly tables?: readonly AnswerTable[];
  /** Text to be copied letter by letter, such as an entry of a file. */
  readonly listing?: string;
  /** Whether the tables stand before the figures. */
  readonly tablesFirst?: boolean;
  /** Left out on a terminal, which has no room for it. */
  readonly onPageOnly?: boolean;
}

/** A figure by the name of its kind, with its data. */
export interface FigureReference {
  readonly id: string;
  readonly title: string;
  /** Kind in the registry of figures. */
  readonly figure: string;
  readonly data: unknown;
}

export interface AnswerTable {
  readonly caption?: string;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  readonly notes?: readonly string[];
}

export interface Column {
  readonly name: string;
  /** Unit as text; none for words and pure numbers. */
  readonly unit?: string;
}

/** A cell, and whether it fails a requirement. */
export type Cell = string | { readonly text: string; readonly fails: boolean };

/** Text of a cell. */
export function cellText(cell: Cell): string {
  return typeof cell === 'string' ? cell : cell.text;
}

/** Head of a column with its unit: `feed rate, kg/h`. */
export function columnHead({ name, unit }: Column): string {
  return unit ? (name === '' ? unit : `${name}, ${unit}`) : name;
}

/** Columns from heads such as `feed rate, kg/h`. */
export function columns(...heads: readonly string[]): Column[] {
  return heads.map((head) => {
    const comma = head.lastIndexOf(', ');
    return comma < 0 ? { name: head } : { name: head.slice(0, comma), unit: head.slice(comma + 2) };
  });
}

/** A table with rows and columns changed over; the first column becomes the heads. */
export function turned({ columns: heads, rows, ...rest }: AnswerTable): AnswerTable {
  const [first, ...others] = heads;
  return {
    ...rest,
    columns: [first ?? { name: '' }, ...rows.map((row) => ({ name: cellText(row[0] ?? '') }))],
    rows: others.map((column, c) => [columnHead(column), ...rows.map((row) => row[c + 1] ?? '')]),
  };
}
