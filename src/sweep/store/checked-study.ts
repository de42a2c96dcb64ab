import { designNamed } from '../../scenario/design/designs.ts';
import { InputError } from '../../scenario/errors.ts';
import { requireLaws } from '../../scenario/outside/laws-used.ts';
import type { Factor } from '../../scenario/scenario.ts';
import { isShownUnit } from '../../scenario/units/display.ts';
import type { Range } from '../study/column.ts';
import { type CompiledStudy, compileStudy } from '../study/compile.ts';
import { storedQuantity } from '../study/stored-quantities.ts';
import type { Study } from '../study/study.ts';
import { lawModulesOf } from '../study/study-of.ts';
import { studyHash } from './identity.ts';
import { readPlainData, writePlainData } from './plain-data.ts';
import { MOST_POINTS } from './schema.ts';
import { isSoundScenario } from './sound-scenario.ts';
import { programVersion } from './version.ts';

/** Factors, levels and steps a study can have; those of a scenario are fewer or as many. */
const MOST_FACTORS = 100;
const MOST_STEPS = 100_000;

/**
 * The study of a store, from the entries of its table `study`. The hash is computed anew, and the study is compiled and its
 * first point evaluated: size, columns and units are those that come of it, not those that are stored.
 *
 * @param path of the store, for messages
 * @throws InputError where anything differs, or the study cannot be evaluated
 */
export function checkedStudy(path: string, entries: ReadonlyMap<string, string>) {
  const refuse = (what: string): InputError => {
    const remedy = 'restore the file from a copy, or sweep again';
    return new InputError([{ place: path, message: `is damaged or was changed: ${what}; ${remedy}` }]);
  };
  const version = entries.get('version') ?? '';
  let study: Study;
  let compiled: CompiledStudy;
  try {
    study = readPlainData(entries.get('study') ?? '') as Study;
    requireLaws(path, 'swept', 'sweep again into another OUT', study.lawModules);
    refuseOddShape(study);
    compiled = compileStudy(study);
    compiled.evaluate({ first: 0, count: 1 });
  } catch (error) {
    if (error instanceof InputError && error.faults.every(({ place }) => place === path)) throw error;
    throw refuse(`the study in it cannot be evaluated${otherVersion(version)}`);
  }
  if (writePlainData(lawModulesOf(study)) !== writePlainData(study.lawModules))
    throw refuse('it does not name the modules its laws come from');
  const hash = studyHash(study, version);
  if (hash !== entries.get('hash')) throw refuse('its study is not the one that was run');
  const { size, columns, curveSizes } = compiled;
  const range = rangeFrom(entries.get('range'), size);
  if (size > MOST_POINTS || String(size) !== entries.get('size') || range === undefined) {
    throw refuse(`its number of points does not follow from its study${otherVersion(version)}`);
  }
  return { study, columns, curveSizes, size, range, hash, version };
}

/** A study of another version may be in order there. */
function otherVersion(version: string): string {
  const here = programVersion();
  return version === here ? '' : ` (made by version ${version.slice(0, 20) || 'unknown'}, this is ${here})`;
}

function rangeFrom(text: string | undefined, size: number): Range | undefined {
  try {
    const { first, count } = readPlainData(text ?? '') as Range;
    const fits = Number.isInteger(first) && Number.isInteger(count) && first >= 0 && count >= 0;
    return fits && first + count <= size ? { first, count } : undefined;
  } catch {
    return undefined;
  }
}

/** What compiling and evaluating would not notice, or would take too long over. */
function refuseOddShape({ scenario, plan, quantities, curves }: Study): void {
  const sound =
    isSoundScenario(scenario) &&
    typeof curves === 'boolean' &&
    quantities.every((name) => storedQuantity(name) !== undefined) &&
    isPlan(plan) &&
    (scenario.sweep === undefined || isPlan(scenario.sweep));
  if (!sound) throw new TypeError('not the study of a sweep');
}

function isPlan({ design, factors, points, seed = 0 }: Study['plan']): boolean {
  designNamed(design);
  const counts = points === undefined || (Number.isInteger(points) && points > 0 && points <= MOST_POINTS);
  return counts && Number.isInteger(seed) && factors.length <= MOST_FACTORS && factors.every(isFactor);
}

function isFactor(factor: Factor): boolean {
  if (typeof factor.path !== 'string' || !isShownUnit(factor.shownIn)) return false;
  if (factor.kind === 'levels') {
    const { levels } = factor;
    const allOf = (kind: string): boolean => levels.every((level) => typeof level === kind);
    return levels.length > 0 && levels.length <= MOST_STEPS && (allOf('number') || allOf('string'));
  }
  const { from, to, steps = 1, scale } = factor;
  const whole = Number.isInteger(steps) && steps > 0 && steps <= MOST_STEPS;
  return Number.isFinite(from) && Number.isFinite(to) && whole && ['linear', 'log'].includes(scale);
}
