import { DEFAULT_POINTS } from '../../scenario/design/design.ts';
import { designNamed } from '../../scenario/design/designs.ts';
import { type Fault, InputError } from '../../scenario/errors.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import { type LawVersions, usedFromOutside, versionsOf } from '../../scenario/outside/laws-used.ts';
import type { Scenario, SweepPlan } from '../../scenario/scenario.ts';
import { DEFAULT_SEED } from './compile.ts';
import { defaultQuantities, storedQuantity } from './stored-quantities.ts';
import type { Study } from './study.ts';

/** What a user may change about a sweep without editing the file. */
export interface StudyOptions {
  readonly points?: number;
  readonly seed?: number;
  /** Names of quantities to store; every one where absent. */
  readonly quantities?: readonly string[];
  readonly curves?: boolean;
}

/**
 * The study a scenario's `sweep:` block describes, with seed and number of points filled in.
 *
 * @throws InputError where there is no such block, or an option does not fit
 */
export function studyOf(scenario: Scenario, options: StudyOptions = {}): Study {
  const { sweep } = scenario;
  if (sweep === undefined) {
    const message = 'is missing: a sweep needs `sweep: { design: grid, factors: … }` in the file';
    throw new InputError([{ place: 'sweep', message }]);
  }
  const faults = [
    ...countFaults(options),
    ...nameFaults(options.quantities ?? []),
    ...openSpeedFaults(scenario),
  ];
  if (faults.length > 0) throw new InputError(faults);
  const { points: written, seed: writtenSeed, ...rest } = sweep;
  const open = designNamed(sweep.design).counts === 'by points';
  const points = options.points ?? written ?? (open ? DEFAULT_POINTS : undefined);
  const plan: SweepPlan = {
    ...rest,
    seed: options.seed ?? writtenSeed ?? DEFAULT_SEED,
    ...(points === undefined ? {} : { points }),
  };
  const quantities = [...new Set(options.quantities ?? defaultQuantities(scenario))];
  const study = { scenario, plan, quantities, curves: options.curves ?? false };
  const lawModules = lawModulesOf(study);
  return lawModules ? { ...study, lawModules } : study;
}

/** Versions of the modules a study relies on; undefined where all is the program's own. */
export function lawModulesOf({ scenario, plan, quantities }: Study): LawVersions | undefined {
  const names = quantities.map((name) => storedQuantity(name)?.quantity.name ?? name);
  return versionsOf(usedFromOutside(scenario, { design: plan.design, quantities: names }));
}

function countFaults({ points, seed }: StudyOptions): Fault[] {
  const faults: Fault[] = [];
  if (points !== undefined && !(Number.isInteger(points) && points > 0)) {
    faults.push({ place: '--points', message: `must be a whole number above 0, is ${points}` });
  }
  if (seed !== undefined && !(Number.isInteger(seed) && seed >= 0 && seed < 2 ** 32)) {
    faults.push({ place: '--seed', message: `must be a whole number from 0 to 4294967295, is ${seed}` });
  }
  return faults;
}

/** Grades whose wheel speed is proposed for each of them cannot share the points of one sweep. */
function openSpeedFaults({ grades = {}, sweep }: Scenario): Fault[] {
  const open = Object.values(grades).some(({ wheelSpeed }) => wheelSpeed !== undefined);
  if (!open || sweep?.factors.some(({ path }) => path === 'wheelSpeed')) return [];
  const message =
    'is missing, and each grade would be swept at a proposal of its own; give it, make it a factor of the sweep, or name one grade with --grade';
  return [{ place: 'settings.wheelSpeed', message }];
}

function nameFaults(names: readonly string[]): Fault[] {
  return names.flatMap((name) => {
    if (storedQuantity(name) !== undefined) return [];
    const argument = quantityNamed(name)?.argument;
    const message =
      argument === undefined
        ? `no quantity ${name}; grindloop quantities lists them`
        : `${name} needs a ${argument}, e.g. ${name}(${argument === 'size' ? '75 um' : '50 %'})`;
    return [{ place: '--quantities', message }];
  });
}
