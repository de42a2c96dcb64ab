import { classesPerOctave } from '../../model/loop/grid-needed.ts';
import { buildChamber } from '../../model/loop/prepared-materials.ts';
import { activityOf, type PointOf } from '../../scenario/design/activity.ts';
import { isNamed } from '../../scenario/design/coordinate.ts';
import type { Activity, CompiledDesign } from '../../scenario/design/design.ts';
import { designNamed } from '../../scenario/design/designs.ts';
import { InputError } from '../../scenario/errors.ts';
import { toCase, valueAs, withValues } from '../../scenario/operating-point.ts';
import type { Factor, Scenario } from '../../scenario/scenario.ts';
import type { Column, Evaluate } from './column.ts';
import { evaluator } from './evaluate.ts';
import type { Study } from './study.ts';
import { layoutOf } from './study-columns.ts';

/** A study ready to be evaluated, here or in a worker. */
export interface CompiledStudy {
  /** Points of the design. */
  readonly size: number;
  readonly columns: readonly Column[];
  /** Sizes [m] of the size curves kept; empty where none are. */
  readonly curveSizes: readonly number[];
  readonly design: CompiledDesign;
  readonly evaluate: Evaluate;
}

/**
 * Compiles a study: its design, columns and evaluation.
 *
 * @throws InputError with every fault of the design's factors
 */
export function compileStudy(study: Study): CompiledStudy {
  const { scenario } = study;
  const design = designOf(study);
  const layout = layoutOf(study);
  const curveSizes = study.curves ? curveSizesOf(scenario) : [];
  const evaluate = evaluator({ scenario, design, layout, curveSizes });
  return { size: design.size, columns: layout.columns, curveSizes, design, evaluate };
}

function designOf({ scenario, plan }: Study): CompiledDesign {
  if (plan.factors.length === 0) throw noFactors();
  const { factors, points, seed = DEFAULT_SEED } = plan;
  const base = Float64Array.from(factors, (factor) => baseCoordinate(scenario, factor));
  const activity = activityOf(factors, operatingPoint(scenario, factors));
  refuseIdle(factors, base, activity);
  const setup = { factors, seed, base, activity, ...(points === undefined ? {} : { points }) };
  return designNamed(plan.design).compile(setup);
}

/** Seed of a plan that names none. */
export const DEFAULT_SEED = 1;

/** What of a point the model looks at: the chosen wheel, not the others. */
function operatingPoint(scenario: Scenario, factors: readonly Factor[]): PointOf {
  return (values) => {
    const changing = factors.filter(({ path }) => values.has(path));
    const at = withValues(
      scenario,
      changing,
      changing.map(({ path }) => values.get(path)!),
    );
    const { circuit, stages, loopTime, chokeLoad, casingLoss, evaporation } = at.machine;
    const { classesPerOctave: classes, smallestSize } = at.machine;
    const loop = {
      circuit,
      stages: String(stages),
      loopTime,
      chokeLoad,
      casingLoss,
      evaporation,
      classes,
      smallestSize,
    };
    return { ...toCase(at), loop };
  };
}

/** A factor that changes nothing at any combination of names is a mistake in the file. */
function refuseIdle(factors: readonly Factor[], base: Float64Array, activity: Activity): void {
  const idle = factors.map(() => true);
  const visit = (coordinates: Float64Array, from: number): void => {
    const active = activity(coordinates);
    active.forEach((is, j) => {
      if (is) idle[j] = false;
    });
    for (let j = from; j < factors.length && idle.includes(true); j++) {
      const factor = factors[j]!;
      if (factor.kind !== 'levels' || !isNamed(factor)) continue;
      const places = new Map([...factor.levels.entries()].map(([place, name]) => [name, place]));
      for (const place of places.values()) visit(coordinates.with(j, place), j + 1);
    }
  };
  visit(base, 0);
  const faults = factors.flatMap(({ path }, j) =>
    idle[j]
      ? [{ place: `sweep.factors.${path}`, message: 'changes nothing at any point; leave it out' }]
      : [],
  );
  if (faults.length > 0) throw new InputError(faults);
}

/** Class edges of the scenario as it stands, but for the lowest: class 0 also takes everything finer. */
function curveSizesOf(scenario: Scenario): number[] {
  const c = toCase(scenario);
  return [...buildChamber(c.components, c.loop.smallestSize, classesPerOctave(c)).grid.edges].slice(1);
}

function noFactors(): InputError {
  return new InputError([{ place: 'sweep.factors', message: 'has no factor; give at least one' }]);
}

/**
 * Coordinate of a factor as the scenario stands: SI value, a speed the way the factor states it, or the place of the
 * scenario's name among the levels.
 *
 * @returns NaN where the path holds no number, or the name is not among the levels
 */
function baseCoordinate(scenario: Scenario, factor: Factor): number {
  const value = valueAs(scenario, factor.path, factor.as);
  if (typeof value === 'string') {
    const place = factor.kind === 'levels' ? factor.levels.indexOf(value) : -1;
    return place < 0 ? Number.NaN : place;
  }
  return value ?? Number.NaN;
}
