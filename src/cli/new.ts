import { randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { rename, unlink, writeFile } from 'node:fs/promises';
import { basename, dirname, extname, join } from 'node:path';
import { InputError } from '../scenario/errors.ts';
import { packageCatalogue } from '../scenario/load.ts';
import { suggestion } from '../scenario/read/nearest.ts';
import { childOf, type Origin } from '../scenario/read/node.ts';
import { readYaml } from '../scenario/read/yaml.ts';
import { scenarioTemplate } from '../scenario/template.ts';
import { type Command, EXIT } from './command.ts';

/** `new FILE`: a commented scenario to start from. */
export const newScenario: Command = {
  usage: 'new <file>',
  summary: 'write a commented scenario to start from',
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'file to write', demandOption: true })
      .option('material', {
        type: 'string',
        default: 'organic-crystal',
        describe: 'material of the catalogue',
      })
      .option('machine', { type: 'string', default: 'pilot-300', describe: 'machine of the catalogue' })
      .option('force', { type: 'boolean', default: false, describe: 'replace the file if there is one' }),
  run: async (options) => {
    const file = String(options.file);
    const text = templateOf(file, String(options.material), String(options.machine));
    if (existsSync(file) && !options.force) {
      throw new InputError([{ place: file, message: 'is there already; --force replaces it' }]);
    }
    await writeWhole(file, text);
    process.stdout.write(`wrote ${file}; next: grindloop check ${file}\n`);
    return EXIT.done;
  },
};

function templateOf(file: string, material: string, machine: string): string {
  const { catalogue, catalogueNames } = packageCatalogue();
  const materials = catalogueNames('materials');
  const machines = catalogueNames('machines');
  const faults = [
    ...nameFault('--material', material, materials),
    ...nameFault('--machine', machine, machines),
  ];
  if (faults.length > 0) throw new InputError(faults);
  const origin: Origin = { name: machine, kind: 'catalogue' };
  const wheels = childOf(readYaml(catalogue(`machines/${machine}`) ?? '', origin).node, 'wheels');
  const names = wheels?.kind === 'block' ? [...wheels.entries.keys()] : [];
  const title = basename(file, extname(file));
  return scenarioTemplate({ title, material, machine, wheel: names[0] ?? '', materials, machines });
}

function nameFault(place: string, name: string, known: readonly string[]) {
  return known.includes(name)
    ? []
    : [{ place, message: `"${name}" is not in the catalogue${suggestion(name, known)}` }];
}

/** Written beside and renamed, so that a reader never meets half a file. */
async function writeWhole(file: string, text: string): Promise<void> {
  const beside = join(dirname(file), `.${basename(file)}.${randomUUID()}`);
  try {
    await writeFile(beside, text, { flag: 'wx' });
    await rename(beside, file);
  } catch (error) {
    await unlink(beside).catch(() => undefined);
    throw new InputError([
      { place: file, message: `cannot be written: ${(error as Error).message.replace(beside, file)}` },
    ]);
  }
}
