import { type Fault, InputError } from '../errors.ts';
import { blankInactive } from './activity.ts';
import { gridCoordinates } from './coordinate.ts';
import type { CompiledDesign, Design, DesignSetup } from './design.ts';

/** Steps of a factor that names none. */
const STEPS = 5;

/** The scenario as it stands, then each factor alone through its steps. */
export const oneAtATime: Design = {
  name: 'one-at-a-time',
  summary: 'the scenario as written, then each factor alone through its steps',
  counts: 'by factors',
  extends: false,
  compile: compileOneAtATime,
};

function compileOneAtATime({ factors, points, base, activity }: DesignSetup): CompiledDesign {
  const faults: Fault[] = [];
  if (points !== undefined) {
    faults.push({
      place: 'sweep.points',
      message: 'one-at-a-time has its points from the steps; remove --points',
    });
  }
  factors.forEach((factor, j) => {
    if (Number.isNaN(base[j])) {
      const message =
        'the value the scenario has now must be among the levels, since the other factors vary around it';
      faults.push({ place: `sweep.factors.${factor.path}`, message });
    }
  });
  if (faults.length > 0) throw new InputError(faults);
  const active = activity(base);
  const steps: [factor: number, coordinate: number][] = [];
  factors.forEach((factor, j) => {
    if (!active[j]) return;
    for (const value of gridCoordinates(factor, factor.kind === 'number' ? (factor.steps ?? STEPS) : 0)) {
      if (!sameValue(value, base[j]!)) steps.push([j, value]);
    }
  });
  return {
    size: 1 + steps.length,
    fill: (index, coordinates) => {
      coordinates.set(base);
      const step = steps[index - 1];
      if (step !== undefined) coordinates[step[0]] = step[1];
      blankInactive(coordinates, activity);
    },
  };
}

/** Equal but for the rounding of a unit conversion. */
function sameValue(a: number, b: number): boolean {
  return Math.abs(a - b) <= 1e-12 * Math.max(Math.abs(a), Math.abs(b));
}
