import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { uniform } from '../../reference/random-cases.ts';
import { trialOf } from './change.ts';
import { clear, faultsOf, lossesIn, place, type Ran, runHereBriefly } from './run.ts';
import { openWorkshop, stateOf, type Workshop } from './workshop.ts';

/** What a campaign of command lines came to. */
export interface Campaign {
  readonly codes: Readonly<Record<number, number>>;
  /** Slowest run [ms] and its words. */
  readonly slowest: { readonly took: number; readonly words: string };
  readonly broken: number;
}

/** Account of the user nobody: a mutated path reaches nothing outside the workshop. */
const NOBODY = 65_534;

/**
 * Mutated command lines, one after another, in a folder of their own.
 *
 * @param say told of every run that is not as it should be
 */
export async function commandLines(
  runs: number,
  seed: number,
  say: (text: string) => void,
  run: (words: readonly string[]) => Promise<Ran> = runHereBriefly,
): Promise<Campaign> {
  let workshop = await openWorkshop();
  const back = process.cwd();
  const random = uniform(seed);
  const codes: Record<number, number> = {};
  let slowest = { took: 0, words: '' };
  let broken = 0;
  for (let turn = 0; turn < runs; turn++) {
    process.chdir(workshop.folder);
    const trial = trialOf(random, workshop.folder);
    const words = JSON.stringify(trial.words);
    writeFileSync(join(workshop.folder, '..', 'last'), `${turn} ${words}`);
    const before = trial.file && readFileSync(join(workshop.folder, trial.file.name));
    place(workshop, trial.file);
    if (trial.file) workshop = { ...workshop, whole: stateOf(workshop.folder) };
    const ran = await run(trial.words);
    codes[ran.code] = (codes[ran.code] ?? 0) + 1;
    if (ran.took > slowest.took) slowest = { took: ran.took, words };
    const made: string[] = [];
    const losses = lossesIn(workshop, trial, made);
    const faults = [...faultsOf(trial, ran), ...losses];
    if (faults.length > 0) {
      broken++;
      say(
        `run ${turn}: ${words}\n  ${faults.join('\n  ')}\n${trial.file ? `--- ${trial.file.name}\n${trial.file.text.slice(0, 3000)}\n---\n` : ''}`,
      );
    }
    clear(workshop, made);
    if (trial.file && before) writeFileSync(join(workshop.folder, trial.file.name), before);
    process.chdir(back);
    workshop = await inOrder(workshop, losses.length > 0);
  }
  workshop.remove();
  return { codes, slowest, broken };
}

/** The workshop as it is to be taken for whole next; a new one where something was lost. */
async function inOrder(workshop: Workshop, lost: boolean): Promise<Workshop> {
  if (!lost) return { ...workshop, whole: stateOf(workshop.folder) };
  workshop.remove();
  return openWorkshop();
}

/** Gives up the rights of root, where they are held. */
export function becomeNobody(): void {
  if (process.getuid?.() === 0) {
    process.setgid!(NOBODY);
    process.setuid!(NOBODY);
  }
}
