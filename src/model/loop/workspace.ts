import type { Case } from '../case.ts';
import type { CutConditions } from '../wheel/cut.ts';
import type { ClassPassing } from '../wheel/efficiency/efficiency-law.ts';
import { type Fixed, fixedBy, heatOfFeed } from './fixed.ts';
import { classesPerOctave } from './grid-needed.ts';
import { buildChamber, type Chamber, type Fragments } from './prepared-materials.ts';
import { fillSelection } from './selection-by-class.ts';

/** One component's arrays; written by every evaluation, read after the last. */
export interface ComponentWork {
  readonly fragments: Fragments;
  /** F·share·f [kg/s]. */
  readonly feed: Float64Array;
  /** S by class, fixed by the rotor speed. */
  readonly selection: Float64Array;
  /** ρ_p x² v_imp/(18 w) by class: Stokes number times viscosity. */
  readonly inertia: Float64Array;
  /** S q² e and S q² w by class, with q of `inertia`, for the inner loop of one separable term. */
  readonly escaped: Float64Array;
  readonly sourced: Float64Array;
  readonly breakage: Float64Array;
  readonly passing: ClassPassing;
  readonly leaving: Float64Array;
  readonly arriving: Float64Array;
  /** p = D h, filled once the root is found. */
  readonly product: Float64Array;
  /** Number of finest classes with S = 0. */
  unbroken: number;
  /** Cuts of the last evaluation [m]. */
  cutSize: number;
  stokesCutSize: number;
  /** Cut before cut factor and loading, kept as the next start; 0 before the first. */
  idealCut: number;
  /** Cut at the upper end of an interval being bounded [m]. */
  highCut: number;
}

/** What Φ(G) takes from the conditions at G; `conditionsOf` tells the rest. SI. */
export interface LoopConditions {
  circulating: number;
  loading: number;
  temperature: number;
  /** Water evaporated [kg/s]. */
  evaporated: number;
  airDensity: number;
  viscosity: number;
  hitsPerPass: number;
  radialVelocity: number;
  swirlVelocity: number;
  sharpness: number;
  bypass: number;
}

/** A case made ready for repeated evaluation of Φ(G). */
export interface Workspace {
  readonly case: Case;
  readonly chamber: Chamber;
  fixed: Fixed;
  readonly components: readonly ComponentWork[];
  /** Conditions of the last evaluation, overwritten by the next. */
  readonly now: LoopConditions;
  /** Rim conditions handed to the cut, overwritten by each evaluation. */
  readonly rim: { -readonly [name in keyof CutConditions]: CutConditions[name] };
  /** Heat a warm casing gives back, beyond its loss counted from the inlet air [W]; 0 but in time (eq. 28). */
  casingHeat: number;
  /** Evaluations of Φ and of its bound so far. */
  evaluations: number;
}

/**
 * Prepared parts kept between cases that share them, e.g. over the points of a sweep. Owned by the caller. Of two grids,
 * since a sweep that crosses the grind limit goes from one to the other and back.
 */
export interface Kept {
  parts?: readonly KeptParts[];
}

interface KeptParts {
  readonly perOctave: number;
  readonly smallest: number;
  readonly chamber: Chamber;
  readonly components: readonly ComponentWork[];
  /** What the chamber was made for. */
  readonly of: Case['components'];
}

/**
 * Prepares a case: grid and fragments of its materials, selection at its rotor speed, and all that G does not change.
 *
 * @param c the case
 * @param kept parts of the last cases; their arrays are used again, so a state solved before is overwritten
 * @param perOctave classes per octave, where a grid made before has to stay
 */
export function prepare(c: Case, kept: Kept = {}, perOctave?: number): Workspace {
  const fixed = fixedBy(c);
  const { chamber, components } = partsFor(c, kept, perOctave ?? classesPerOctave(c, fixed));
  components.forEach((work, index) => {
    fillFixed(c, chamber, fixed, work, index);
  });
  return {
    case: c,
    chamber,
    fixed,
    components,
    now: { ...UNSET },
    rim: {
      radialVelocity: 0,
      swirlVelocity: 0,
      radius: c.wheel.geometry.diameter / 2,
      particleDensity: 0,
      airDensity: 0,
      viscosity: 0,
      meanFreePath: 0,
    },
    casingHeat: 0,
    evaluations: 0,
  };
}

const UNSET: LoopConditions = {
  circulating: 0,
  loading: 0,
  temperature: 0,
  evaporated: 0,
  airDensity: 0,
  viscosity: 0,
  hitsPerPass: 0,
  radialVelocity: 0,
  swirlVelocity: 0,
  sharpness: 0,
  bypass: 0,
};

/** Chamber and arrays on a grid: those kept where they are of the same materials, else new ones in the place of the like. */
function partsFor(c: Case, kept: Kept, perOctave: number): KeptParts {
  const smallest = c.loop.smallestSize;
  const like = kept.parts?.find((parts) => parts.perOctave === perOctave && parts.smallest === smallest);
  if (like?.of === c.components) return like;
  const chamber = buildChamber(c.components, smallest, perOctave, like?.chamber);
  const components = worksFor(chamber, like?.components);
  const parts: KeptParts = { perOctave, smallest, chamber, components, of: c.components };
  const others = kept.parts?.filter((other) => other !== like) ?? [];
  kept.parts = [parts, ...others.slice(0, 1)];
  return parts;
}

/** Arrays for every component of a chamber, those of the last case where they have its classes. */
function worksFor(
  { grid, components }: Chamber,
  last: readonly ComponentWork[] | undefined,
): ComponentWork[] {
  return components.map(({ fragments }, i) => {
    const own = last?.[i];
    return own?.feed.length === grid.classes ? { ...own, fragments } : emptyWork(fragments, grid.classes);
  });
}

function emptyWork(fragments: Fragments, n: number): ComponentWork {
  return {
    fragments,
    feed: new Float64Array(n),
    selection: new Float64Array(n),
    inertia: new Float64Array(n),
    escaped: new Float64Array(n),
    sourced: new Float64Array(n),
    breakage: new Float64Array(n),
    passing: { finer: new Float64Array(n), coarser: new Float64Array(n) },
    leaving: new Float64Array(n),
    arriving: new Float64Array(n),
    product: new Float64Array(n),
    unbroken: 0,
    cutSize: 0,
    stokesCutSize: 0,
    idealCut: 0,
    highCut: 0,
  };
}

/**
 * Sets another feed rate in a prepared case; all else stays. With the feed rate of the case the workspace is as `prepare`
 * left it, to the last bit.
 *
 * @param feedRate F [kg/s]
 */
export function setFeedRate(w: Workspace, feedRate: number): void {
  w.fixed = { ...w.fixed, feedRate, ...heatOfFeed(w.case, w.fixed.inlet, feedRate) };
  w.components.forEach((work, index) => {
    const { component, feed } = w.chamber.components[index]!;
    const rate = feedRate * component.share;
    for (let i = 0; i < feed.length; i++) work.feed[i] = rate * feed[i]!;
  });
}

function fillFixed(c: Case, chamber: Chamber, fixed: Fixed, work: ComponentWork, index: number): void {
  const { component, feed } = chamber.components[index]!;
  const { material, share } = component;
  const sizes = chamber.grid.sizes;
  const inertia = (material.density * fixed.hit.speed) / (18 * c.rotor.geometry.width);
  const rate = fixed.feedRate * share;
  const { escaping } = work.fragments;
  const source = work.fragments.kind === 'separable' ? work.fragments.source : undefined;
  // every case starts its cut search at the same place, so a point's result never depends on the one before
  work.idealCut = 0;
  fillSelection(c, chamber.grid, fixed, component, work.selection);
  for (let i = 0; i < sizes.length; i++) {
    const x = sizes[i]!;
    work.feed[i] = rate * feed[i]!;
    const q = inertia * x * x;
    work.inertia[i] = q;
    const struck = work.selection[i]! * q * q;
    work.escaped[i] = struck * escaping[i]!;
    if (source) work.sourced[i] = struck * source[i]!;
  }
  work.unbroken = 0;
  while (work.unbroken < sizes.length - 1 && work.selection[work.unbroken] === 0) work.unbroken++;
}
