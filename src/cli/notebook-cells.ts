/** One `ts` cell of a notebook with the output that stands below it. */
interface Cell {
  readonly code: string;
  readonly output: string | undefined;
  /** Places in the text: of the whole cell with its output. */
  readonly from: number;
  readonly to: number;
}

const CELL = /^```ts\n([\s\S]*?)^```\n(?:\n<!-- output -->\n\n```text\n([\s\S]*?)^```\n)?/gm;
const IMPORT = /^import\s*\{([^}]*)\}\s*from\s*'([^']+)';\s*$/gm;

/** Gives the exports of a module by the name a cell imports it by. */
export type Loader = (name: string) => Promise<Readonly<Record<string, unknown>>>;

/** Cells of a Markdown text, in order. */
export function cellsOf(text: string): Cell[] {
  return [...text.matchAll(CELL)].map((match) => ({
    code: match[1]!,
    output: match[2],
    from: match.index,
    to: match.index + match[0].length,
  }));
}

/** What the cells of a notebook gave: one output a cell, and drawings by the names of their files. */
export interface Given {
  readonly outputs: readonly string[];
  readonly drawings: ReadonlyMap<string, string>;
}

/** A cell that ended in a fault; counted from 1. */
export class CellError extends Error {
  readonly cell: number;

  constructor(cell: number, cause: unknown) {
    super(cause instanceof Error ? cause.message : String(cause), { cause });
    this.cell = cell;
  }
}

/**
 * Runs the cells of a notebook in one scope, top to bottom; they are plain scripts. `import { … } from '…'` takes from the program itself, from a file
 * next to the notebook or from a package; `show(value)` adds to the output of its cell, `figure(file, svg)` is a drawing that
 * the notebook shows from `images/`.
 *
 * @param text Markdown
 * @throws CellError where a cell does not end well
 * @param load gives the exports of what a cell imports
 */
export async function runCells(text: string, load: Loader): Promise<Given> {
  const outputs: string[] = [];
  const drawings = new Map<string, string>();
  const parts = cellsOf(text).map(({ code }, i) => {
    const taken = code.replace(
      IMPORT,
      (_, names: string, from: string) =>
        `const {${names.replace(/\btype\s+\w+,?/g, '').replace(/\bas\b/g, ':')}} = await load('${from}');`,
    );
    return `cell(${i});\n${taken}`;
  });
  const make = new Function(
    'load',
    'cell',
    'show',
    'figure',
    `return (async () => {\n${parts.join('\n')}\n})`,
  );
  let current = 0;
  const cell = (index: number) => {
    current = index;
    outputs[index] = '';
  };
  const show = (value: unknown) => {
    outputs[current] += `${typeof value === 'string' ? value : JSON.stringify(value)}\n`;
  };
  const figure = (file: string, svg: string) => {
    drawings.set(file, svg);
  };
  try {
    await make(load, cell, show, figure)();
  } catch (error) {
    throw new CellError(current + 1, error);
  }
  return { outputs, drawings };
}

/** The text with every cell's output put below it. */
export function withOutputs(text: string, outputs: readonly string[]): string {
  let result = '';
  let at = 0;
  cellsOf(text).forEach(({ code, from, to }, i) => {
    const shown = outputs[i] ? `\n<!-- output -->\n\n\`\`\`text\n${outputs[i]}\`\`\`\n` : '';
    result += `${text.slice(at, from)}\`\`\`ts\n${code}\`\`\`\n${shown}`;
    at = to;
  });
  return result + text.slice(at);
}
