import { expect, test } from 'vitest';
import type { Case } from '../../src/model/case.ts';
import { solve } from '../../src/model/loop/solve.ts';
import type { SteadyState } from '../../src/model/loop/state.ts';
import { sizeAt } from '../../src/model/psd/curve.ts';
import { freeHitsPerPass, riseSpeed } from '../../src/model/rotor.ts';
import { weakHits } from '../../src/scenario/outcome/operating-cautions.ts';
import { productCurve } from '../../src/scenario/outcome/solved.ts';
import { changed } from '../cases.ts';
import { close } from '../close.ts';
import { uniform, wideCase } from '../reference/random-cases.ts';

/** A random mill, its rotor too; load blunts nothing and nothing slips round the wheel, so that hits alone decide. */
function mill(random: () => number): Case {
  const between = (a: number, b: number) => a + (b - a) * random();
  const width = between(0.01, 0.04);
  const most = Math.floor((Math.PI * 0.3) / width);
  return changed(wideCase(random), {
    rotorGeometry: {
      width,
      gap: between(0.004, 0.03),
      count: Math.round(between(6, most)),
      height: between(0.015, 0.06),
      element: random() < 0.5 ? 'bar' : 'pin',
    },
    rotor: { returnRatio: 0.05 * 8 ** random() },
    coefficients: { sharpnessLoading: 0, cutLoading: 0, bypassLoading: 0, leakage: 0 },
    loop: { chokeLoad: 30 },
  });
}
/**
 * Whether fewer hits come of a wider gap: with a = ψ v_tip/(2 count · N), 1/(s + w) + 1/(D + s − w) < 1/(s + a). In a thin
 * ring that is ψ v_tip < 2 w · count · N; the ring's mean radius, which grows with the gap, asks a little more.
 */
function isCovered({ rotor: { geometry, coefficients } }: Case): boolean {
  const { diameter, gap, width, count } = geometry;
  const a = (coefficients.returnRatio * Math.PI * diameter) / (2 * count);
  return 1 / (gap + width) + 1 / (diameter + gap - width) < 1 / (gap + a);
}
const steady = (c: Case): SteadyState | undefined => {
  const state = solve(c, { choke: false });
  return state.status === 'steady' ? state : undefined;
};
const hits = (c: Case): number =>
  freeHitsPerPass(c.rotor, c.settings.rotorSpeed, riseSpeed(c.air.flow, c.rotor.geometry));
const size = (state: SteadyState, share: number): number => sizeAt(productCurve(state), share);
/** A faster wheel keeps more in the mill, where particles crowd each other: what is hit less often is a little coarser. */
const CROWDED = 1.01;
/** More hits also warm the air, which widens the cut a little. */
const HEAT = 1.02;

test('a closer gap hits more and grinds finer with fewer passes, over random rotors', () => {
  const random = uniform(41);
  let compared = 0;
  for (let i = 0; i < 800; i++) {
    const wide = mill(random);
    const closer = changed(wide, { rotorGeometry: { gap: 0.7 * wide.rotor.geometry.gap } });
    if (!isCovered(wide) || !isCovered(closer)) continue;
    expect(hits(closer), `case ${i}`).toBeGreaterThan(hits(wide));
    const [a, b] = [steady(wide), steady(closer)];
    if (!a) continue;
    // what ran with the wider gap runs with the closer one
    expect(b, `case ${i}`).toBeDefined();
    compared++;
    expect(b!.circulating, `passes of case ${i}`).toBeLessThan(a.circulating * (1 + 1e-9));
    expect(size(b!, 0.5), `x50 of case ${i}`).toBeLessThan(size(a, 0.5) * HEAT);
  }
  expect(compared).toBeGreaterThan(100);
});
test('more elements hit more, each addition less, never beyond (h/v_z) ψ v_tip/2s', () => {
  const random = uniform(42);
  for (let i = 0; i < 300; i++) {
    const c = mill(random);
    const { geometry, coefficients } = c.rotor;
    const of = (count: number) => hits(changed(c, { rotorGeometry: { count } }));
    const [few, twice, thrice] = [1, 2, 3].map((n) => of(n * geometry.count)) as [number, number, number];
    expect(twice).toBeGreaterThan(few);
    expect(thrice - twice).toBeLessThan(twice - few);
    const tip = Math.PI * geometry.diameter * c.settings.rotorSpeed;
    const time = geometry.height / riseSpeed(c.air.flow, geometry);
    const bound = (time * coefficients.returnRatio * tip) / (2 * geometry.gap);
    expect(thrice).toBeLessThan(bound * coefficients.hitFactor * coefficients.linerFactor);
    expect(of(1e8)).toBeGreaterThan(0.999 * bound);
  }
});
test('equal hits under scaling of all lengths at equal tip speed and air ∝ D²', () => {
  const random = uniform(43);
  for (let i = 0; i < 200; i++) {
    const c = mill(random);
    const scale = 0.3 + 4 * random();
    const { diameter, width, gap, height } = c.rotor.geometry;
    const larger = changed(c, {
      rotorGeometry: {
        diameter: scale * diameter,
        width: scale * width,
        gap: scale * gap,
        height: scale * height,
      },
      air: { flow: scale ** 2 * c.air.flow },
      settings: { rotorSpeed: c.settings.rotorSpeed / scale },
    });
    close(hits(larger), hits(c), 1e-12);
  }
});
test('a faster wheel makes a finer product wherever hits break all that it holds back', () => {
  const random = uniform(44);
  let compared = 0;
  for (let i = 0; i < 1500; i++) {
    const c = mill(random);
    const faster = changed(c, { settings: { wheelSpeed: 1.1 * c.settings.wheelSpeed } });
    const [a, b] = [steady(c), steady(faster)];
    if (!a || !b || weakHits(faster, b).length > 0) continue;
    compared++;
    for (const share of [0.5, 0.9, 0.97])
      expect(size(b, share), `x${100 * share} of case ${i}`).toBeLessThan(size(a, share) * CROWDED);
  }
  expect(compared).toBeGreaterThan(100);
});
