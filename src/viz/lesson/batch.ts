import { tabulateFragments } from '../../model/loop/prepared-materials.ts';
import { solveTriangular } from '../../model/loop/triangular.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { run } from './mill.ts';

/** A batch sent round: what is inside and what has left, pass by pass, by class; shares of the batch. */
export interface Batch {
  /** Middles of the classes [µm]. */
  readonly sizes: Float64Array;
  /** Edges of the classes [m]. */
  readonly edges: Float64Array;
  /** After each pass, 0 the feed itself. */
  readonly kept: readonly Float64Array[];
  readonly left: readonly Float64Array[];
  /** Probability to leave before being broken, and visits in its class, by class. */
  readonly chance: Float64Array;
  readonly visits: Float64Array;
}

/**
 * The balance taken one pass at a time: u = [I + (I − b) K]⁻¹ v comes from the rotor, D u leaves, (1 − D) u goes back.
 * Summed over all passes it is eq. 26. A class is left for good at 1/(D + (1 − b_jj) K) visits on average.
 *
 * @returns undefined where the mill chokes
 */
export function passByPass(scenario: Scenario, passes: number): Batch | undefined {
  const solved = run(scenario);
  if (!solved) return undefined;
  const { grid, components } = solved.state;
  const { leaving, breakage, feed } = components[0]!;
  const fragments = tabulateFragments(grid, scenario.components[0]!.material.fragments);
  const total = feed.reduce((sum, each) => sum + each, 0);
  const all = new Float64Array(grid.classes).fill(1);
  let waiting = Float64Array.from(feed, (each) => each / total);
  let out = new Float64Array(grid.classes);
  const kept = [waiting];
  const left = [out];
  for (let pass = 0; pass < passes; pass++) {
    const struck = new Float64Array(grid.classes);
    solveTriangular(fragments, all, breakage, waiting, struck);
    out = Float64Array.from(out, (each, i) => each + leaving[i]! * struck[i]!);
    waiting = Float64Array.from(struck, (each, i) => (1 - leaving[i]!) * each);
    kept.push(waiting);
    left.push(out);
  }
  const gone = leaving.map((each, i) => each + breakage[i]! * fragments.escaping[i]!);
  return {
    sizes: grid.sizes.map((size) => size * 1e6),
    edges: grid.edges,
    kept,
    left,
    chance: leaving.map((each, i) => each / gone[i]!),
    visits: gone.map((each) => 1 / each),
  };
}
