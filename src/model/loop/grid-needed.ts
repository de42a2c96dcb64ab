import { airViscosity, meanFreePath } from '../air.ts';
import { FRAGMENT_LAWS } from '../breakage/fragments/index.ts';
import { SELECTION_LAWS } from '../breakage/selection/index.ts';
import type { Case, Component } from '../case.ts';
import { dragShape } from '../drag.ts';
import { classesNeeded } from '../psd/grid.ts';
import { cutSize, stokesCutSize } from '../wheel/cut.ts';
import { EFFICIENCY_LAWS } from '../wheel/efficiency/index.ts';
import { rosinRammler } from '../wheel/efficiency/rosin-rammler.ts';
import { type Fixed, fixedBy } from './fixed.ts';

/** Classes per octave where the grind limit lies above the cut; fewer where a solve costs the cube of the classes. */
const AT_GRIND_LIMIT = 32;
const AT_GRIND_LIMIT_CUBIC = 16;

/**
 * Classes per octave a case needs: as asked, more for a sharp wheel, and more where particles too small to be broken are
 * held back (eq. S1). For the wheel κ counts, whatever the law: all of them are equally steep at the cut for one κ, to a
 * few percent, while their shape parameters differ.
 *
 * @param fixed what the case fixes, where it is known already
 */
export function classesPerOctave(c: Case, fixed: Fixed = fixedBy(c)): number {
  const law = EFFICIENCY_LAWS[c.wheel.efficiency.law];
  const asked = c.loop.classesPerOctave;
  if (!law || c.loop.circuit === 'open') return asked;
  const [low, high] = law.sharpnessRange;
  const sharpness = Math.min(high, Math.max(low, c.wheel.coefficients.sharpness));
  const needed = Math.ceil(classesNeeded(rosinRammler.shape(sharpness, c.wheel.efficiency)));
  let most = Math.max(asked, needed);
  for (const component of c.components) {
    if (piledUpSize(c, fixed, component) === 0) continue;
    const { fragments } = component.material;
    const cubic = c.loop.stages !== 1 && !FRAGMENT_LAWS[fragments.law]!.terms?.(fragments);
    most = Math.max(most, cubic ? AT_GRIND_LIMIT_CUBIC : AT_GRIND_LIMIT);
  }
  return most;
}

/**
 * Grind limit of a component [m] where it lies above the cut, so that what is too small to be broken piles up and S has
 * its kink where most of the mass is; else 0. The cut is that of inlet air without load: heat and load make it coarser.
 */
export function piledUpSize(c: Case, fixed: Fixed, { material }: Component): number {
  if (c.loop.circuit === 'open') return 0;
  const limit = SELECTION_LAWS[material.selection.law]!.grindLimit(material.selection, fixed.hit);
  const swirlVelocity = fixed.vaneSwirl + fixed.leanSwirl * fixed.radialVelocity;
  if (!(limit > c.loop.smallestSize) || !Number.isFinite(limit) || !(swirlVelocity > 0)) return 0;
  const { temperature, pressure } = c.air;
  const factor = c.wheel.coefficients.cutFactor;
  const viscosity = airViscosity(temperature);
  const rim = {
    radialVelocity: fixed.radialVelocity,
    swirlVelocity,
    radius: c.wheel.geometry.diameter / 2,
    particleDensity: material.density,
    airDensity: fixed.inlet.density,
    viscosity,
    meanFreePath: meanFreePath(temperature, pressure, viscosity),
  };
  const stokes = stokesCutSize(rim);
  // slip alone makes the cut smaller than its Stokes value, by less than half above 0.1 µm
  if (limit < (factor * stokes) / 2) return 0;
  return limit > factor * cutSize(rim, dragShape(material.sphericity), stokes) ? limit : 0;
}
