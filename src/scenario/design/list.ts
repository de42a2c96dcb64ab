import { type Fault, InputError } from '../errors.ts';
import { blankInactive } from './activity.ts';
import { gridCoordinates } from './coordinate.ts';
import type { CompiledDesign, Design, DesignSetup } from './design.ts';

/** Points of a file: every factor is a list of levels, and point i takes the i-th of each. */
export const list: Design = {
  name: 'list',
  summary: 'the rows of a CSV file, one column a factor, its unit in the head',
  counts: 'by factors',
  extends: false,
  compile: ({ factors, points, activity }: DesignSetup): CompiledDesign => {
    const faults: Fault[] = [];
    const rows = factors[0]?.kind === 'levels' ? factors[0].levels.length : 0;
    for (const factor of factors) {
      if (factor.kind !== 'levels' || factor.levels.length !== rows) {
        const message = 'a list needs one level for each point in every factor; give the points by `file:`';
        faults.push({ place: `sweep.factors.${factor.path}`, message });
      }
    }
    if (points !== undefined && points > rows) {
      faults.push({
        place: 'sweep.points',
        message: `the list holds ${rows} points, but points is ${points}`,
      });
    }
    if (faults.length > 0) throw new InputError(faults);
    const columns = factors.map((factor) => gridCoordinates(factor, 0));
    return {
      size: points ?? rows,
      fill: (index, coordinates) => {
        for (let j = 0; j < columns.length; j++) coordinates[j] = columns[j]![index]!;
        blankInactive(coordinates, activity);
      },
    };
  },
};
