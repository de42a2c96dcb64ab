import { createHash } from 'node:crypto';
import { basename, resolve } from 'node:path';
import { type Fault, InputError } from './errors.ts';
import { bytesOfFile, demoCase, loadScenario } from './load.ts';
import { toCase } from './operating-point.ts';
import type { Solved } from './outcome/quantity.ts';
import { solvePoint } from './outcome/solved.ts';
import type { LawModule, LawOrigin } from './outside/law-module.ts';
import { takeUpLaws } from './outside/register.ts';

/** Largest module read [bytes]. */
const LARGEST = 1_000_000;

/**
 * Takes up selection, fragment, grade-efficiency and feed laws, designs and quantities defined in code. They are held to
 * the rules that the program's own are held to, and taken up all or none; for the rest of the process they are as if they
 * had always been there. Worker threads cannot have them: sweep with `threads: 0`, or use `loadLaws`.
 *
 * @param laws lists of them by kind
 * @param from name and version, kept by stores and calibrations; change the version when a law changes
 * @throws InputError with every rule that is broken and every name that is taken
 */
export async function registerLaws(
  laws: LawModule,
  from: { name: string; version: string },
): Promise<LawOrigin> {
  const { name, version } = from;
  if (!name || !version)
    throw new InputError([{ place: 'registerLaws', message: 'needs a name and a version of the laws' }]);
  takeUpLaws(laws, { name, version }, await referencePoint());
  return { name, version };
}

/**
 * Takes up the laws of a file of the user's own: one JavaScript module that imports no other file, so that the hash of
 * its text stands for all that it does. Its code runs with the rights of the program.
 *
 * @param files paths, relative to the current folder
 * @throws InputError with every fault of every file
 */
export async function loadLaws(...files: readonly string[]): Promise<LawOrigin[]> {
  const solved = await referencePoint();
  const faults: Fault[] = [];
  const origins: LawOrigin[] = [];
  for (const file of files) {
    try {
      const [module, origin] = await importLaws(file);
      takeUpLaws(module, origin, solved);
      origins.push(origin);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      faults.push(...error.faults);
    }
  }
  if (faults.length > 0) throw new InputError(faults);
  return origins;
}

/** A module as it is imported, and where it comes from. */
async function importLaws(file: string): Promise<readonly [LawModule, LawOrigin]> {
  const refuse = (error: unknown, what: string): InputError =>
    new InputError([{ place: file, message: `${what}: ${(error as Error).message}` }]);
  let bytes: Uint8Array;
  try {
    bytes = bytesOfFile(file, LARGEST);
  } catch (error) {
    throw refuse(error, 'cannot be read');
  }
  const version = createHash('sha256').update(bytes).digest('hex');
  try {
    // from its bytes, not its path: what runs is what was hashed, and a relative import has nothing to refer to
    const url = `data:text/javascript;base64,${Buffer.from(bytes).toString('base64')}`;
    const module = (await import(url)) as LawModule & { default?: LawModule };
    const { default: whole, ...lists } = module;
    const laws = Object.keys(lists).length > 0 ? lists : (whole ?? {});
    return [laws, { name: basename(file), version, path: resolve(file) }];
  } catch (error) {
    throw refuse(error, 'is not a JavaScript module of one file that exports lists of laws');
  }
}

/** A solved point of the demo case. */
async function referencePoint(): Promise<Solved> {
  const point = solvePoint(toCase(await loadScenario(demoCase('erythritol'))));
  if (point.status === 'choked') throw new Error('the demo case chokes');
  return point;
}
