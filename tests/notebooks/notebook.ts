import { transform } from 'esbuild';

/** One `ts` cell of a worked story with the output that stands below it. */
interface Cell {
  readonly code: string;
  readonly output: string | undefined;
  /** Places in the text: of the whole cell with its output. */
  readonly from: number;
  readonly to: number;
}

const CELL = /^```ts\n([\s\S]*?)^```\n(?:\n<!-- output -->\n\n```text\n([\s\S]*?)^```\n)?/gm;
const IMPORT = /^import\s*\{([^}]*)\}\s*from\s*'grindloop';\s*$/gm;

/** Cells of a Markdown text, in order. */
export function cellsOf(text: string): Cell[] {
  return [...text.matchAll(CELL)].map((match) => ({
    code: match[1]!,
    output: match[2],
    from: match.index,
    to: match.index + match[0].length,
  }));
}

/**
 * Runs the cells of a story in one scope, top to bottom. `import { … } from 'grindloop'` takes from the program itself;
 * `show(value)` adds to the output of its cell.
 *
 * @param text Markdown
 * @param library what `grindloop` exports
 * @returns one output a cell
 */
export async function runCells(text: string, library: Readonly<Record<string, unknown>>): Promise<string[]> {
  const outputs: string[] = [];
  const parts = cellsOf(text).map(({ code }, i) => {
    const taken = code.replace(
      IMPORT,
      (_, names: string) => `const {${names.replace(/\btype\s+\w+,?/g, '')}} = library;`,
    );
    return `cell(${i});\n${taken}`;
  });
  const { code } = await transform(`(async () => {\n${parts.join('\n')}\n})`, {
    loader: 'ts',
    target: 'es2022',
  });
  const make = new Function('library', 'cell', 'show', `return ${code.trim().replace(/;$/, '')}`);
  let current = 0;
  const cell = (index: number) => {
    current = index;
    outputs[index] = '';
  };
  const show = (value: unknown) => {
    outputs[current] += `${typeof value === 'string' ? value : JSON.stringify(value)}\n`;
  };
  await make(library, cell, show)();
  return outputs;
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

const NUMBER = /-?\d+(?:\.\d+)?(?:e[+-]?\d+)?/gi;

/** First place where two outputs differ in words, or in a number by more than a tolerance; undefined where they agree. */
export function difference(found: string, wanted: string, tolerance: number): string | undefined {
  const words = (text: string) => text.replace(NUMBER, '#').replace(/[ ]+/g, ' ');
  if (words(found) !== words(wanted)) return `words differ:\n${found}\nagainst\n${wanted}`;
  const [a, b] = [found.match(NUMBER) ?? [], wanted.match(NUMBER) ?? []];
  for (let i = 0; i < a.length; i++) {
    const [x, y] = [Number(a[i]), Number(b[i])];
    if (Math.abs(x - y) > tolerance * Math.max(Math.abs(x), Math.abs(y))) return `${a[i]} against ${b[i]}`;
  }
  return undefined;
}
