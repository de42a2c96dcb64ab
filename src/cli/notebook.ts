import { mkdirSync } from 'node:fs';
import { createRequire, isBuiltin } from 'node:module';
import { basename, dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { InputError } from '../scenario/errors.ts';
import { bytesOfFile } from '../scenario/load.ts';
import { packagePath } from '../scenario/package-folder.ts';
import { type Command, EXIT } from './command.ts';
import { CellError, cellsOf, type Loader, runCells, withOutputs } from './notebook-cells.ts';
import { writeWhole } from './write-file.ts';

/** Largest notebook read [bytes]. */
const LARGEST = 4_000_000;

/** `notebook FILE`: runs the cells of a Markdown file and writes it with their results. */
export const notebook: Command = {
  options: (argv) =>
    argv
      .positional('file', {
        type: 'string',
        demandOption: true,
        describe: 'Markdown file with cells marked ts',
      })
      .option('output', {
        alias: 'o',
        type: 'string',
        describe:
          'file to write; default the same name in the current folder. Drawings go to images/ next to it',
      })
      .example('grindloop notebook my-notebook.md', 'runs it and writes the results below its cells')
      .example('grindloop notebook my-notebook.md -o results.md', 'leaves the notebook as it is'),
  run: async (options) => {
    const file = String(options.file);
    const text = textOf(file);
    if (cellsOf(text).length === 0) {
      const message = 'has no cell to run; a cell begins with a line ```ts and ends with a line ```';
      throw new InputError([{ place: file, message }]);
    }
    const output = typeof options.output === 'string' ? options.output : basename(file);
    const { outputs, drawings } = await given(file, text);
    const images = join(dirname(output), 'images');
    if (drawings.size > 0) mkdirSync(images, { recursive: true });
    for (const [name, svg] of drawings) writeWhole(join(images, basename(name)), svg);
    writeWhole(output, withOutputs(text, outputs));
    process.stdout.write(`${output}\n`);
    return EXIT.done;
  },
};

function textOf(file: string): string {
  try {
    return Buffer.from(bytesOfFile(file, LARGEST)).toString('utf8').split('\r\n').join('\n');
  } catch (error) {
    throw new InputError([{ place: file, message: `cannot be read: ${(error as Error).message}` }]);
  }
}

async function given(file: string, text: string): ReturnType<typeof runCells> {
  try {
    return await runCells(text, loaderFrom(file));
  } catch (error) {
    if (error instanceof CellError)
      throw new InputError([{ place: `${file}, cell ${error.cell}`, message: error.message }]);
    throw error;
  }
}

/** Files of the program's own source, which a package holds as built. */
const OWN = /^\.\.\/src\/(.*)\.ts$/;

/** The program by its name and files, other files by their path from the notebook, packages as found from there. */
function loaderFrom(file: string): Loader {
  const place = resolve(file);
  const from = createRequire(place);
  const pathOf = (name: string): string => {
    if (name === 'grindloop') return packagePath('dist/src/index.js');
    const own = OWN.exec(name);
    if (own) return packagePath(`dist/src/${own[1]}.js`);
    if (name.startsWith('.')) return resolve(dirname(place), name);
    return isBuiltin(name) ? name : from.resolve(name);
  };
  return async (name) => {
    const path = pathOf(name);
    return import(isBuiltin(path) ? path : pathToFileURL(path).href);
  };
}
