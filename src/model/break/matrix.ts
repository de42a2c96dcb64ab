import type { LawChoice } from '../parameters.ts';
import type { Grid } from '../psd/grid.ts';
export function fragmentMatrix(_g: Grid, _c: LawChoice): Float64Array {
  throw new Error('later');
}
