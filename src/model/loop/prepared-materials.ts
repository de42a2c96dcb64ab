import type { FragmentLaw } from '../breakage/fragments/fragment-law.ts';
import { FRAGMENT_LAWS } from '../breakage/fragments/index.ts';
import { fragmentMatrix } from '../breakage/matrix.ts';
import type { Component } from '../case.ts';
import { type DragShape, dragShape } from '../drag.ts';
import type { LawChoice } from '../parameters.ts';
import { componentFeed, FEED_LAWS } from '../psd/feed/index.ts';
import { buildGrid, type Grid, type GridOptions, isSameGrid } from '../psd/grid.ts';

/** B = Σ u_k(x) w_k(y): solved in O(n). Rows of term k start at k·n. */
export interface Separable {
  readonly kind: 'separable';
  readonly terms: number;
  /** Δu_k over class i: what of a term's breakage lands there. */
  readonly gain: Float64Array;
  /** w_k(x_j). */
  readonly source: Float64Array;
  /** 1 − b_jj: what of a breakage in class j leaves the class. */
  readonly escaping: Float64Array;
  /** Scratch of the solve, one running sum a term. */
  readonly running: Float64Array;
}

/** Any B: packed lower triangle, b_ij at [j(j+1)/2 + i]: the fragments of parent j lie side by side. */
export interface Triangle {
  readonly kind: 'matrix';
  readonly packed: Float64Array;
  readonly escaping: Float64Array;
}

/** Class-to-class fragments of one material on one grid. */
export type Fragments = Separable | Triangle;

/** What of a component does not change with settings or wheel: computed once per material, feed and grid. */
export interface PreparedComponent {
  readonly component: Component;
  /** f: share of this component's feed by class, Σ = 1. */
  readonly feed: Float64Array;
  readonly fragments: Fragments;
  readonly drag: DragShape;
}

/** Materials on their common grid. */
export interface Chamber {
  /** What the grid was built from. */
  readonly asked: GridOptions;
  readonly grid: Grid;
  readonly components: readonly PreparedComponent[];
}

/**
 * Grid, feed fractions and fragment tables of a case. Nothing here depends on settings, so a sweep builds it once; where
 * the material itself varies, what did not change is taken over from the last.
 *
 * @param components feed components
 * @param smallest lowest edge [m]
 * @param perOctave classes per octave
 * @param last a chamber made before, never written to
 */
export function buildChamber(
  components: readonly Component[],
  smallest: number,
  perOctave: number,
  last?: Chamber,
): Chamber {
  let top = 2 * smallest;
  for (const { feed } of components) top = Math.max(top, FEED_LAWS[feed.law]!.top(feed));
  const asked: GridOptions = { smallest, top, classesPerOctave: perOctave };
  const like = last && isSameGrid(last.asked, asked) ? last : undefined;
  const grid = like ? like.grid : buildGrid(asked);
  return {
    asked,
    grid,
    components: components.map((component, i) => {
      const { feed, material } = component;
      const own = like?.components[i];
      return {
        component,
        feed: own?.component.feed === feed ? own.feed : componentFeed(grid, feed),
        fragments:
          own?.component.material.fragments === material.fragments
            ? own.fragments
            : tabulateFragments(grid, material.fragments),
        drag: dragShape(material.sphericity),
      };
    }),
  };
}

/**
 * Class-to-class fragments of a law on a grid, in the leanest form the law allows.
 *
 * b_ij = B(e_{i+1}, x_j) − B(e_i, x_j) for i < j, class 0 takes all finer; b_jj = 1 − B(e_j, x_j) stays in its class.
 */
export function tabulateFragments(
  grid: Grid,
  choice: LawChoice,
  law: FragmentLaw = FRAGMENT_LAWS[choice.law]!,
): Fragments {
  const terms = law.terms?.(choice);
  if (!terms) {
    const packed = fragmentMatrix(grid, choice, law);
    const escaping = Float64Array.from(grid.sizes, (_, j) => 1 - packed[(j * (j + 1)) / 2 + j]!);
    escaping[0] = 0;
    return { kind: 'matrix', packed, escaping };
  }
  const n = grid.classes;
  const gain = new Float64Array(terms.length * n);
  const source = new Float64Array(terms.length * n);
  const escaping = new Float64Array(n);
  terms.forEach((term, k) => {
    let below = 0;
    for (let i = 0; i < n; i++) {
      const above = term.ofFragment(grid.edges[i + 1]!);
      gain[k * n + i] = above - below;
      source[k * n + i] = term.ofParent(grid.sizes[i]!);
      if (i > 0) escaping[i]! += below * source[k * n + i]!;
      below = above;
    }
  });
  return {
    kind: 'separable',
    terms: terms.length,
    gain,
    source,
    escaping,
    running: new Float64Array(terms.length),
  };
}
