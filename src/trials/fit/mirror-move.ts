import { normal, type Random } from '../random.ts';
import { type Coefficient, numberAt } from './coefficient.ts';

/** A step along what no size curve can separate; its reverse is as likely, and it keeps volumes. */
export type MirrorMove = (coordinates: readonly number[], random: Random) => number[];

/**
 * η_v → s η_v with f → f/s² and c → c s² leaves every size curve as it is (eq. K1). On the scales of the fit that is a
 * bent line, which steps along straight ones follow slowly; this one follows it.
 *
 * @returns undefined where velocity ratio or friability is not fitted
 */
export function mirrorMove(coefficients: readonly Coefficient[]): MirrorMove | undefined {
  const called = (name: string): number[] =>
    coefficients.flatMap(({ path }, i) => (path.endsWith(`.${name}`) ? [i] : []));
  const [ratio] = called('velocityRatio');
  const friabilities = called('friability');
  const thresholds = called('threshold');
  if (ratio === undefined || friabilities.length === 0) return undefined;
  const one = coefficients[ratio]!;
  return (coordinates, random) => {
    const moved = [...coordinates];
    moved[ratio]! += one.spread * normal(random);
    const turn = 2 * Math.log(numberAt(one, moved[ratio]!) / numberAt(one, coordinates[ratio]!));
    for (const i of friabilities) moved[i]! -= turn;
    for (const i of thresholds) moved[i]! += turn;
    return moved;
  };
}
