import { normal, type Random } from '../random.ts';
import type { JointDensity } from './density.ts';
import { type Place, placeAt } from './place.ts';
import type { Surrogate } from './surrogate.ts';

/** Steps of one glide, and their length in standard coordinates with how much it varies (`assumed`). */
const STEPS = 4;
const LENGTH = 0.4;
const VARIED = 0.5;

/**
 * Hamiltonian move on a surrogate (`recalled`: Duane, Kennedy, Pendleton & Roweth, Phys. Lett. B 195 (1987) 216): a push at
 * random, then a few steps along the slope of ln π, accepted by what is gained of ln π less the push. The slope need only be
 * near to leave the distribution as it is, since steps that can be gone back keep volumes.
 *
 * @param density with the surrogate in place of the model
 */
export function glide(density: JointDensity, surrogate: Surrogate, here: Place, random: Random): Place {
  const u = surrogate.standard(here.point.coordinates);
  const d = u.length;
  const push = Float64Array.from({ length: d }, () => normal(random));
  const length = LENGTH * (1 + VARIED * (2 * random() - 1));
  const slope = new Float64Array(d);
  const before = squared(push);
  surrogate.slope(u, here.index, slope);
  for (let step = 0; step < STEPS; step++) {
    for (let i = 0; i < d; i++) {
      push[i]! -= 0.5 * length * slope[i]!;
      u[i]! += length * push[i]!;
    }
    surrogate.slope(u, here.index, slope);
    for (let i = 0; i < d; i++) push[i]! -= 0.5 * length * slope[i]!;
  }
  const draw = Math.log(random());
  const point = density.at(surrogate.place(u));
  if (!point) return here;
  const there = placeAt(density, point, here.index);
  return draw < there.density - here.density + 0.5 * (before - squared(push)) ? there : here;
}

function squared(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}
