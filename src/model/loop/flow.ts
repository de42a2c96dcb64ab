import { GAUSS } from '../psd/grid.ts';
import { setConditions } from './conditions.ts';
import { sumAround } from './fast-flow-sum.ts';
import { solveStages } from './stages.ts';
import { solveTriangular } from './triangular.ts';
import type { ComponentWork, Workspace } from './workspace.ts';

/**
 * Φ(G) = Σ h(G): the flow that comes round when G went round, with everything G changes (eq. 26b).
 *
 * @param w workspace; conditions and cuts are those of G afterwards, the class arrays are not
 * @param circulating G [kg/s]
 * @returns Φ [kg/s]; beyond any real flow where mass arrives in a class that nothing leaves
 */
export function flowAround(w: Workspace, circulating: number): number {
  w.evaluations++;
  setConditions(w, circulating);
  let sum = 0;
  for (const work of w.components) {
    fillPassing(w, work, work.cutSize, w.now.sharpness, 0, work.feed.length);
    sum += sumOf(w, work);
  }
  return sum;
}

/** Conditions, cuts and the class arrays D and K of a circulating flow G [kg/s], whatever was evaluated before. */
export function fillRates(w: Workspace, circulating: number): void {
  for (const work of w.components) work.idealCut = 0;
  setConditions(w, circulating);
  for (const work of w.components) {
    fillPassing(w, work, work.cutSize, w.now.sharpness, 0, work.feed.length);
    fillBreakage(work, w.now.hitsPerPass, w.now.viscosity);
    fillLeaving(w, work, w.now.bypass);
  }
}

/**
 * The class arrays D, K, h of a circulating flow, as `flowAround` sums them.
 *
 * @returns Φ [kg/s]
 */
export function fillState(w: Workspace, circulating: number): number {
  w.evaluations++;
  fillRates(w, circulating);
  let sum = 0;
  for (const work of w.components) sum += solveClasses(w, work);
  return sum;
}

/**
 * A lower bound of Φ over all G in [low, high]: every class leaves as readily as anywhere in the interval (largest cut,
 * the sharper curve below it and the blunter above, least bypass) and breaks as readily (most hits, at `low`).
 *
 * Σh falls with every D and every K as long as D does not rise with size (`derived`: V_j = (1 + K_j Σ b_ij V_i)/(D_j +
 * K_j(1 − b_jj)) mean visits; V_i ≤ 1/D_j for all i < j, so ∂V_j/∂K_j ≤ 0). Hence Φ > bound ≥ G over the interval proves
 * that it holds no root. Only for one mixed stage per pass.
 *
 * @returns bound [kg/s]
 */
export function boundedFlow(w: Workspace, low: number, high: number): number {
  w.evaluations++;
  setConditions(w, high);
  const sharpnessHigh = w.now.sharpness;
  for (const work of w.components) work.highCut = work.cutSize;
  setConditions(w, low);
  const { sizes, logRatio, classes: n } = w.chamber.grid;
  let sum = 0;
  for (const work of w.components) {
    const cut = Math.max(work.cutSize, work.highCut);
    const sharper = Math.max(w.now.sharpness, sharpnessHigh);
    const blunter = Math.min(w.now.sharpness, sharpnessHigh);
    const at = Math.min(n, Math.max(0, Math.ceil(Math.log(cut / sizes[0]!) / logRatio)));
    fillPassing(w, work, cut, sharper, 0, at);
    fillPassing(w, work, cut, blunter, at, n);
    sum += sumOf(w, work);
  }
  return sum;
}

/** Σh of a component whose passing curve is filled, by the leanest route its laws allow. */
function sumOf(w: Workspace, work: ComponentWork): number {
  const { fragments } = work;
  if (fragments.kind !== 'separable' || fragments.terms !== 1 || w.case.loop.stages !== 1)
    return fillArriving(w, work);
  const open = w.case.loop.circuit === 'open';
  const leakage = open ? 1 : w.case.wheel.coefficients.leakage;
  return sumAround(
    fragments.gain,
    work.passing,
    leakage,
    (1 - leakage) * (1 - w.now.bypass),
    w.now.hitsPerPass,
    0.25 * w.now.viscosity,
    work.escaped,
    work.sourced,
    work.inertia,
    work.feed,
    work.unbroken,
  );
}

/** D, K and h by class of a component whose passing curve is filled. */
function fillArriving(w: Workspace, work: ComponentWork): number {
  fillBreakage(work, w.now.hitsPerPass, w.now.viscosity);
  fillLeaving(w, work, w.now.bypass);
  return solveClasses(w, work);
}

/** h by class from D and K. */
function solveClasses(w: Workspace, work: ComponentWork): number {
  const { stages } = w.case.loop;
  if (stages !== 1) return solveStages(stages, work);
  return solveTriangular(work.fragments, work.leaving, work.breakage, work.feed, work.arriving);
}

/** 1 − T for a cut and a sharpness (eq. 19) at the two points of classes from ≤ i < to. */
function fillPassing(
  w: Workspace,
  work: ComponentWork,
  cut: number,
  sharpness: number,
  from: number,
  to: number,
): void {
  const law = w.fixed.efficiency;
  const choice = w.case.wheel.efficiency;
  const { sizes, logRatio } = w.chamber.grid;
  const { finer, coarser } = work.passing;
  if (w.case.loop.circuit === 'open' || cut === Number.POSITIVE_INFINITY) {
    finer.fill(1, from, to);
    coarser.fill(1, from, to);
    return;
  }
  const shape = law.shape(sharpness, choice);
  // beside the leakage, which adds to it, a passing this small changes no digit of D
  const negligible = 1e-18 * w.case.wheel.coefficients.leakage;
  if (law.fillPassing) {
    const logApart = GAUSS * logRatio;
    law.fillPassing(sizes[0]! / cut, logRatio, logApart, shape, work.passing, from, to, negligible);
    return;
  }
  const apart = Math.exp(GAUSS * logRatio);
  for (let i = from; i < to; i++) {
    finer[i] = law.passing(sizes[i]! / (cut * apart), shape, choice);
    coarser[i] = law.passing((sizes[i]! * apart) / cut, shape, choice);
  }
}

/**
 * D by class (eq. 20): ℓ + (1 − ℓ)(1 − τ)(1 − T) at the class's two points, averaged over what stays in the class,
 * D = Σ_± D_± r_±/Σ_± r_±, r_± = 1/(D_± + K e). A wheel's curve falls steeply within a class of 1/8 octave; taken at the
 * middle only, it puts x99 half a percent too fine. With D constant in the class nothing changes.
 */
function fillLeaving(w: Workspace, work: ComponentWork, bypass: number): void {
  const { leaving, passing, breakage, fragments } = work;
  if (w.case.loop.circuit === 'open') {
    leaving.fill(1);
    return;
  }
  const leakage = w.case.wheel.coefficients.leakage;
  const open = (1 - leakage) * (1 - bypass);
  for (let i = 0; i < leaving.length; i++) {
    const broken = breakage[i]! * fragments.escaping[i]!;
    const finer = leakage + open * passing.finer[i]!;
    const coarser = leakage + open * passing.coarser[i]!;
    const all = finer + coarser + 2 * broken;
    leaving[i] = all > 0 ? (finer * (coarser + broken) + coarser * (finer + broken)) / all : 0;
  }
}

/** K = k η_c S by class (eq. 5, 26). */
function fillBreakage(work: ComponentWork, hits: number, viscosity: number): void {
  const { breakage, selection, inertia } = work;
  const half = 0.25 * viscosity;
  for (let i = 0; i < breakage.length; i++) {
    const captured = inertia[i]! / (inertia[i]! + half);
    breakage[i] = hits * selection[i]! * captured * captured;
  }
}
