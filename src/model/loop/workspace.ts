import { AIR_HEAT_CAPACITY, EVAPORATION_HEAT, type InletAir, inletAir } from '../air.ts';
import { SELECTION_LAWS } from '../breakage/selection/index.ts';
import type { Hit } from '../breakage/selection/law.ts';
import type { Case } from '../case.ts';
import {
  availablePower,
  freeHitsPerPass,
  idlePower,
  normalEnergyShare,
  riseSpeed,
  tipSpeed,
} from '../rotor.ts';
import type { CutConditions } from '../wheel/cut.ts';
import { EFFICIENCY_LAWS } from '../wheel/efficiency/index.ts';
import type { ClassPassing, EfficiencyLaw } from '../wheel/efficiency/law.ts';
import { freeArea, swirlFactor } from '../wheel/flow.ts';
import { buildChamber, type Chamber, classesPerOctave, type Fragments } from './prepared-materials.ts';

/** What a case fixes before any circulating flow is known; SI. */
export interface Fixed {
  readonly inlet: InletAir;
  readonly feedRate: number;
  readonly tipSpeed: number;
  readonly hit: Hit;
  /** k_0 and v_z at the inlet temperature; both follow the air's expansion. */
  readonly freeHits: number;
  readonly riseSpeed: number;
  readonly idlePower: number;
  readonly availablePower: number;
  readonly rimSpeed: number;
  /** v_r at the inlet temperature. */
  readonly radialVelocity: number;
  /** χ_φ ω R, and χ_β tan β. */
  readonly vaneSwirl: number;
  readonly leanSwirl: number;
  /** Work of one hit, and of picking up the swirl, on what goes round [J/kg] (eq. 16). */
  readonly hitWork: number;
  readonly pickUpWork: number;
  /** Work of vanes, and of their lean at inlet temperature, on air and what goes round [J/kg] (eq. 17). */
  readonly vaneWork: number;
  readonly leanWork: number;
  /** m_air c_air + F Σ c_p + U [W/K]. */
  readonly heatCapacityFlow: number;
  /** Water that evaporates if the air can take it up [kg/s], and the heat that takes [J/kg] (eq. 25). */
  readonly water: number;
  readonly evaporationHeat: number;
  readonly efficiency: EfficiencyLaw;
}

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

/** Prepared parts kept between cases that share them, e.g. over the points of a sweep. Owned by the caller. */
export interface Kept {
  chamber?: { readonly key: readonly unknown[]; readonly value: Chamber };
  components?: readonly ComponentWork[];
}

/**
 * Prepares a case: grid and fragments of its materials, selection at its rotor speed, and all that G does not change.
 *
 * @param c the case
 * @param kept parts of the last case; its arrays are used again, so a state solved before is overwritten
 */
export function prepare(c: Case, kept: Kept = {}): Workspace {
  const perOctave = classesPerOctave(c);
  const key = [c.components, c.loop.smallestSize, perOctave];
  const same = kept.chamber !== undefined && key.every((part, i) => part === kept.chamber!.key[i]);
  const last = kept.chamber?.value;
  const chamber = same ? last! : buildChamber(c.components, c.loop.smallestSize, perOctave, last);
  const components = same && kept.components ? kept.components : worksFor(chamber, kept.components);
  kept.chamber = { key, value: chamber };
  kept.components = components;
  const fixed = fixedBy(c);
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

function fixedBy(c: Case): Fixed {
  const { rotor, wheel, settings } = c;
  const inlet = inletAir(c.air);
  const flow = inlet.massFlow / inlet.density;
  const tip = tipSpeed(rotor.geometry.diameter, settings.rotorSpeed);
  const impact = rotor.coefficients.velocityRatio * tip;
  const energy = (normalEnergyShare(rotor.geometry.element) * impact * impact) / 2;
  const rise = riseSpeed(flow, rotor.geometry);
  const { velocityRatio, restitution, powerFactor = 1 } = rotor.coefficients;
  // ε v_imp written as 2W/v_imp, so that the share ε stands in one place
  const momentum = impact > 0 ? (2 * energy) / impact : 0;
  const rimSpeed = Math.PI * wheel.geometry.diameter * settings.wheelSpeed;
  const radialVelocity = (wheel.coefficients.radialFactor * flow) / freeArea(wheel.geometry);
  const vaneSwirl = swirlFactor(wheel) * rimSpeed;
  const leanSwirl = wheel.coefficients.leanFactor * Math.tan(wheel.geometry.lean);
  return {
    inlet,
    feedRate: settings.feedRate,
    tipSpeed: tip,
    hit: { speed: impact, energy },
    freeHits: freeHitsPerPass(rotor, settings.rotorSpeed, rise),
    riseSpeed: rise,
    idlePower: idlePower(rotor, settings.rotorSpeed, inlet.density, inlet.massFlow),
    availablePower: availablePower(rotor.motor, settings.rotorSpeed),
    rimSpeed,
    radialVelocity,
    vaneSwirl,
    leanSwirl,
    hitWork: powerFactor * tip * (1 + restitution) * momentum,
    pickUpWork: powerFactor * (1 - velocityRatio) * tip * tip,
    vaneWork: rimSpeed * vaneSwirl,
    leanWork: rimSpeed * leanSwirl * radialVelocity,
    ...heatOfFeed(c, inlet, settings.feedRate),
    efficiency: EFFICIENCY_LAWS[wheel.efficiency.law]!,
  };
}

/** What of the heat balance moves with the feed rate [kg/s]. */
function heatOfFeed(
  c: Case,
  inlet: InletAir,
  feedRate: number,
): Pick<Fixed, 'heatCapacityFlow' | 'water' | 'evaporationHeat'> {
  let solids = 0;
  for (const { share, material } of c.components) solids += share * material.heatCapacity;
  return {
    heatCapacityFlow: inlet.massFlow * AIR_HEAT_CAPACITY + feedRate * solids + c.loop.casingLoss,
    water: feedRate * c.loop.evaporation,
    evaporationHeat: EVAPORATION_HEAT,
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
  const law = SELECTION_LAWS[material.selection.law]!;
  const sizes = chamber.grid.sizes;
  const inertia = (material.density * fixed.hit.speed) / (18 * c.rotor.geometry.width);
  const rate = fixed.feedRate * share;
  const { escaping } = work.fragments;
  const source = work.fragments.kind === 'separable' ? work.fragments.source : undefined;
  // every case starts its cut search at the same place, so a point's result never depends on the one before
  work.idealCut = 0;
  for (let i = 0; i < sizes.length; i++) {
    const x = sizes[i]!;
    work.feed[i] = rate * feed[i]!;
    work.selection[i] = law.probability(material.selection, x, fixed.hit);
    const q = inertia * x * x;
    work.inertia[i] = q;
    const struck = work.selection[i]! * q * q;
    work.escaped[i] = struck * escaping[i]!;
    if (source) work.sourced[i] = struck * source[i]!;
  }
  work.unbroken = 0;
  while (work.unbroken < sizes.length - 1 && work.selection[work.unbroken] === 0) work.unbroken++;
}
