import { LuDecomposition, Matrix } from 'ml-matrix';
import { FRAGMENT_LAWS } from '../../src/model/breakage/fragments/index.ts';
import { SELECTION_LAWS } from '../../src/model/breakage/selection/index.ts';
import type { Case } from '../../src/model/case.ts';
import { fixedBy } from '../../src/model/loop/fixed.ts';
import { classesPerOctave, piledUpSize } from '../../src/model/loop/grid-needed.ts';
import { componentFeed, FEED_LAWS } from '../../src/model/psd/feed/index.ts';
import { buildGrid, type Grid } from '../../src/model/psd/grid.ts';
import { EFFICIENCY_LAWS } from '../../src/model/wheel/efficiency/index.ts';

/**
 * A second, plain coding of the steady state, equation by equation and without regard to speed: heat balance and cut size
 * by bisection, the balance by dense LU (ml-matrix), the coupling by short steps from empty. Shares with the program
 * only the size grid, the feed fractions and the laws' own formulas.
 */
export interface PlainState {
  readonly circulating: number;
  readonly temperature: number;
  readonly cutSize: number;
  readonly arriving: readonly number[][];
  readonly product: readonly number[][];
  readonly grindingPower: number;
  readonly idlePower: number;
}

/** What is prepared once: grid, feeds, fragment matrices. */
export interface PlainProblem {
  readonly case: Case;
  readonly grid: Grid;
  readonly feeds: readonly Float64Array[];
  /** fragments[c][i][j]: mass fraction of a broken particle of class j that lands in class i. */
  readonly fragments: readonly (readonly (readonly number[])[])[];
  readonly airMassFlow: number;
  readonly inletDensity: number;
  /** Another law of crowding than eq. 6: hits per pass over those without load. */
  readonly crowding?: (loading: number, halving: number) => number;
}

const R = 287.05287;

export function plainProblem(c: Case): PlainProblem {
  const perOctave = classesPerOctave(c);
  const top = Math.max(...c.components.map(({ feed }) => FEED_LAWS[feed.law]!.top(feed)));
  const grid = buildGrid({ smallest: c.loop.smallestSize, top, classesPerOctave: perOctave });
  const n = grid.classes;
  const fragments = c.components.map(({ material }) => {
    const law = FRAGMENT_LAWS[material.fragments.law]!;
    const b = (x: number, y: number) => (x >= y ? 1 : law.undersize(material.fragments, x, y));
    return Array.from({ length: n }, (_, i) =>
      Array.from({ length: n }, (_, j) => {
        if (i > j) return 0;
        const parent = grid.sizes[j]!;
        const below = i === 0 ? 0 : b(grid.edges[i]!, parent);
        return (i === j ? 1 : b(grid.edges[i + 1]!, parent)) - below;
      }),
    );
  });
  const { temperature: T, pressure, humidity, flow } = c.air;
  const saturation = Math.exp(
    -5.8002206e3 / T +
      1.3914993 -
      4.8640239e-2 * T +
      4.1764768e-5 * T ** 2 -
      1.4452093e-8 * T ** 3 +
      6.5459673 * Math.log(T),
  );
  const vapour = humidity * saturation;
  const inletDensity = (pressure - vapour) / (R * T) + (vapour * 0.621945) / (R * T);
  return {
    case: c,
    grid,
    feeds: c.components.map(({ feed }) => componentFeed(grid, feed)),
    fragments,
    airMassFlow: flow * inletDensity,
    inletDensity,
  };
}

/** Φ(G) with everything behind it. */
export function plainFlow(problem: PlainProblem, G: number): PlainState & { readonly around: number } {
  const { case: c, airMassFlow: m } = problem;
  const N = c.settings.rotorSpeed;
  const { rotor, wheel } = c;
  const F = c.settings.feedRate;
  const lambda = G / m;
  const vTip = Math.PI * rotor.geometry.diameter * N;
  const vImp = rotor.coefficients.velocityRatio * vTip;
  const epsilon = rotor.geometry.element === 'pin' ? 2 / 3 : 1;
  const W = (epsilon * vImp ** 2) / 2;
  const omegaR = 2 * Math.PI * c.settings.wheelSpeed * (wheel.geometry.diameter / 2);
  const area =
    wheel.geometry.openArea === undefined
      ? wheel.geometry.height *
        (Math.PI * wheel.geometry.diameter -
          (wheel.geometry.vanes * wheel.geometry.thickness) / Math.cos(wheel.geometry.lean))
      : wheel.geometry.height * Math.PI * wheel.geometry.diameter * wheel.geometry.openArea;
  const chiPhi =
    wheel.coefficients.swirlFactor ??
    1 - Math.sqrt(Math.cos(wheel.geometry.lean)) / wheel.geometry.vanes ** 0.7;
  const at = (T: number) => {
    const density = (problem.inletDensity * c.air.temperature) / T;
    const Q = m / density;
    const { diameter: D, gap: s, width: w, count, height } = rotor.geometry;
    const outer = D / 2 + s;
    const inner = D / 2 - w;
    const time = (height * Math.PI * (outer ** 2 - inner ** 2)) / Q;
    const perHit = 1 / (count * N) + (2 * s) / (rotor.coefficients.returnRatio * vTip);
    const k0 = (rotor.coefficients.hitFactor * rotor.coefficients.linerFactor * time) / perHit;
    const { crowdingLoad, powerFactor = 1 } = rotor.coefficients;
    const k = k0 * (problem.crowding?.(lambda, crowdingLoad) ?? 1 / (1 + lambda / crowdingLoad));
    const vR = (wheel.coefficients.radialFactor * Q) / area;
    const vPhi = chiPhi * omegaR + wheel.coefficients.leanFactor * vR * Math.tan(wheel.geometry.lean);
    const idle =
      rotor.coefficients.idleNumber * problem.inletDensity * N ** 3 * rotor.geometry.diameter ** 5 +
      (1 - rotor.coefficients.velocityRatio) * m * vTip ** 2;
    const grinding =
      powerFactor *
      vTip *
      ((1 + rotor.coefficients.restitution) * epsilon * vImp * k * G +
        (1 - rotor.coefficients.velocityRatio) * vTip * G);
    const wheelPower = (m + G) * vPhi * omegaR;
    const capacity =
      m * 1006 +
      c.components.reduce((sum, { share, material }) => sum + share * F * material.heatCapacity, 0) +
      c.loop.casingLoss;
    const heat = idle + grinding + wheelPower - F * c.loop.evaporation * 2.454e6;
    return { density, Q, k, vR, vPhi, idle, grinding, rise: heat / capacity };
  };
  const T = bisect((t) => t - c.air.temperature - at(t).rise, c.air.temperature - 200, 20000);
  const state = at(T);
  const mu = (1.458e-6 * T ** 1.5) / (T + 110.4);
  const path = (mu / c.air.pressure) * Math.sqrt((Math.PI * R * T) / 2);
  const efficiency = EFFICIENCY_LAWS[wheel.efficiency.law]!;
  const kappa = Math.min(
    efficiency.sharpnessRange[1],
    Math.max(
      efficiency.sharpnessRange[0],
      wheel.coefficients.sharpness * Math.exp(-wheel.coefficients.sharpnessLoading * lambda),
    ),
  );
  const shape = efficiency.shape(kappa, wheel.efficiency);
  const tau = 1 - (1 - wheel.coefficients.bypass) * Math.exp(-wheel.coefficients.bypassLoading * lambda);
  const leak = wheel.coefficients.leakage;
  let around = 0;
  let firstCut = Number.NaN;
  const arriving: number[][] = [];
  const product: number[][] = [];
  c.components.forEach(({ material, share }, index) => {
    const cut =
      wheel.coefficients.cutFactor *
      (1 + wheel.coefficients.cutLoading * lambda) *
      plainCut(material, state, mu, path, wheel.geometry.diameter / 2);
    if (index === 0) firstCut = cut;
    const law = SELECTION_LAWS[material.selection.law]!;
    const sizes = Array.from(problem.grid.sizes);
    const limit = piledUpSize(c, fixedBy(c), c.components[index]!);
    const S = (x: number) => law.probability(material.selection, x, { speed: vImp, energy: W });
    const K = sizes.map((x, i) => {
      const stk = (material.density * x * x * vImp) / (18 * mu * rotor.geometry.width);
      return (
        state.k *
        (stk / (stk + 0.25)) ** 2 *
        meanOverKink(S, x, problem.grid.edges[i]!, problem.grid.edges[i + 1]!, limit)
      );
    });
    const b = problem.fragments[index]!;
    // D at Gauss's two points of each class, averaged over what stays there
    const apart = Math.exp(Math.log(problem.grid.ratio) / Math.sqrt(12));
    const D = sizes.map((x, i) => {
      if (c.loop.circuit === 'open') return 1;
      const d = [x / apart, x * apart].map(
        (point) => leak + (1 - leak) * (1 - tau) * efficiency.passing(point / cut, shape, wheel.efficiency),
      );
      const r = d.map((each) => 1 / (each + K[i]! * (1 - b[i]![i]!)));
      return (d[0]! * r[0]! + d[1]! * r[1]!) / (r[0]! + r[1]!);
    });
    const A = new Matrix(
      sizes.map((_, i) => sizes.map((_, j) => (i === j ? D[i]! + K[j]! : 0) - b[i]![j]! * K[j]!)),
    );
    const rhs = Matrix.columnVector(Array.from(problem.feeds[index]!, (f) => F * share * f));
    const h = new LuDecomposition(A).solve(rhs).to1DArray();
    arriving.push(h);
    product.push(h.map((value, i) => value * D[i]!));
    around += h.reduce((sum, value) => sum + value, 0);
  });
  return {
    circulating: G,
    temperature: T,
    cutSize: firstCut,
    arriving,
    product,
    grindingPower: state.grinding,
    idlePower: state.idle,
    around,
  };
}

/** S at the class's middle; its mean over ln x where the class holds a grind limit above the cut (two Gauss points). */
function meanOverKink(
  S: (size: number) => number,
  middle: number,
  low: number,
  high: number,
  limit: number,
): number {
  if (!(limit >= low && limit < high)) return S(middle);
  const at = (share: number) => S(limit * (high / limit) ** share);
  const above = Math.log(high / limit) / Math.log(high / low);
  return (above * (at(0.5 - 1 / Math.sqrt(12)) + at(0.5 + 1 / Math.sqrt(12)))) / 2;
}

function plainCut(
  material: Case['components'][number]['material'],
  state: { readonly density: number; readonly vR: number; readonly vPhi: number },
  mu: number,
  path: number,
  radius: number,
): number {
  const phi = material.sphericity;
  const a = Math.exp(2.3288 - 6.4581 * phi + 2.4486 * phi ** 2);
  const b = 0.0964 + 0.5565 * phi;
  const cc = Math.exp(4.905 - 13.8944 * phi + 18.4222 * phi ** 2 - 10.2599 * phi ** 3);
  const d = Math.exp(1.4681 + 12.2584 * phi - 20.7322 * phi ** 2 + 15.8855 * phi ** 3);
  const excess = (logX: number) => {
    const x = Math.exp(logX);
    const re = (state.density * state.vR * x) / mu;
    const drag = (24 / re) * (1 + a * re ** b) + cc / (1 + d / re);
    const kn = (2 * path) / x;
    const slip = 1 + kn * (1.257 + 0.4 * Math.exp(-1.1 / kn));
    return (
      logX -
      Math.log(
        (0.75 * drag * state.density * state.vR ** 2 * radius) /
          ((material.density - state.density) * state.vPhi ** 2 * slip),
      )
    );
  };
  return Math.exp(bisect(excess, Math.log(1e-9), Math.log(10)));
}

function bisect(f: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  for (let i = 0; i < 200 && b - a > 0; i++) {
    const middle = (a + b) / 2;
    if (middle === a || middle === b) break;
    if (f(middle) > 0) b = middle;
    else a = middle;
  }
  return (a + b) / 2;
}

/**
 * The steady state by short steps from empty, G ← G · clip(1 + y, 1.02, 1.3), and regula falsi in ln G on the interval
 * where y first turns negative; undefined where it never does up to λ_max.
 */
export function plainSteady(c: Case, problem = plainProblem(c)): PlainState | undefined {
  const top = c.loop.chokeLoad * problem.airMassFlow;
  const y = (G: number) => plainFlow(problem, G).around / G - 1;
  let G = c.settings.feedRate;
  let value = y(G);
  if (value <= 1e-10) return plainFlow(problem, G);
  while (G < top) {
    const next = Math.min(top, G * Math.min(1.3, Math.max(1.02, 1 + value)));
    const after = y(next);
    if (after <= 0) return plainFlow(problem, regulaFalsi(y, G, value, next, after));
    G = next;
    value = after;
  }
  return undefined;
}

/** Illinois variant of regula falsi in ln G. */
function regulaFalsi(
  y: (G: number) => number,
  low: number,
  yLow: number,
  high: number,
  yHigh: number,
): number {
  let [a, fa, b, fb] = [Math.log(low), yLow, Math.log(high), yHigh];
  for (let i = 0; i < 100; i++) {
    const at = b - (fb * (b - a)) / (fb - fa);
    const value = y(Math.exp(at));
    if (Math.abs(value) < 1e-11) return Math.exp(at);
    if (value > 0 === fb > 0) {
      fa /= 2;
    } else {
      a = b;
      fa = fb;
    }
    b = at;
    fb = value;
  }
  return Math.exp(b);
}
