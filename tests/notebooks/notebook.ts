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

/** What the cells of a story gave: one output a cell, and drawings by the names of their files. */
export interface Given {
  readonly outputs: readonly string[];
  readonly drawings: ReadonlyMap<string, string>;
}

/**
 * Runs the cells of a story in one scope, top to bottom. `import { … } from '…'` takes from the program itself, from a file
 * beside the story or from a package; `show(value)` adds to the output of its cell, `figure(file, svg)` is a drawing that
 * the story shows from `images/`.
 *
 * @param text Markdown
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
  const { code } = await transform(`(async () => {\n${parts.join('\n')}\n})`, {
    loader: 'ts',
    target: 'es2022',
  });
  const make = new Function('load', 'cell', 'show', 'figure', `return ${code.trim().replace(/;$/, '')}`);
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
  await make(load, cell, show, figure)();
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

const NUMBER = /-?\d+(?:\.\d+)?(?:e[+-]?\d+)?/gi;

/** Leaves numbers that differ by less than this part of themselves, or by less than `least` in their own unit. */
export interface Tolerance {
  readonly part: number;
  readonly least?: number;
}

/** Numbers are printed with four digits at most, so this is one unit in the last. */
export const PRINTED: Tolerance = { part: 1e-3 };
/** Places in a drawing are written to a tenth of a px; colours and widths are words of few digits. */
export const DRAWN: Tolerance = { part: 0, least: 0.25 };

/** First place where two outputs differ in words, or in a number by more than a tolerance; undefined where they agree. */
export function difference(
  found: string,
  wanted: string,
  { part, least = 0 }: Tolerance,
): string | undefined {
  const words = (text: string) => text.replace(NUMBER, '#').replace(/[ ]+/g, ' ');
  if (words(found) !== words(wanted)) return `words differ:\n${found}\nagainst\n${wanted}`;
  const [a, b] = [found.match(NUMBER) ?? [], wanted.match(NUMBER) ?? []];
  for (let i = 0; i < a.length; i++) {
    const [x, y] = [Number(a[i]), Number(b[i])];
    const allowed = Math.max(least, part * Math.max(Math.abs(x), Math.abs(y)));
    if (Math.abs(x - y) > allowed) return `${a[i]} against ${b[i]}`;
  }
  return undefined;
}

/**
 * Where a story as it stands departs from what its cells give.
 *
 * @param drawing text of a drawing as it stands; undefined where there is no such file
 */
export function departures(
  text: string,
  { outputs, drawings }: Given,
  drawing: (file: string) => string | undefined,
): string[] {
  const printed = cellsOf(text).flatMap(({ output = '' }, i) => {
    const found = difference(outputs[i]!, output, PRINTED);
    return found === undefined ? [] : [`cell ${i + 1}: ${found}`];
  });
  const drawn = [...drawings].flatMap(([file, svg]) => {
    if (!text.includes(`](images/${file})`)) return [`${file} is drawn but not shown`];
    const stands = drawing(file);
    if (stands === undefined) return [`${file} is missing`];
    const found = difference(svg, stands, DRAWN);
    return found === undefined ? [] : [`${file}: ${found.slice(0, 200)}`];
  });
  return [...printed, ...drawn];
}

/** A text with one of its numbers made larger by one per cent; one variant a number, zeros left out. */
export function spoiled(text: string): string[] {
  return [...text.matchAll(NUMBER)].flatMap((match) => {
    const value = Number(match[0]);
    if (value === 0) return [];
    return [text.slice(0, match.index) + value * 1.01 + text.slice(match.index + match[0].length)];
  });
}
