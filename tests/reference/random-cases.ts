import type { Case } from '../../src/model/case.ts';
import { type Change, changed, degree, PILOT, rpm } from '../cases.ts';

/** Uniform numbers in 0…1 from a seed (Lehmer, multiplier 16807). */
export function uniform(seed: number): () => number {
  let state = seed % 2147483647 || 1;
  return () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
}

/** Settings and materials far wider than a mill test centre meets: strong load effects, sharp and blunt wheels. */
export function wideCase(random: () => number): Case {
  return changed(PILOT, wideChange(random));
}

/** What makes a wide case of the pilot mill; plain data. */
export function wideChange(random: () => number): Change {
  const between = (a: number, b: number) => a + (b - a) * random();
  const log = (a: number, b: number) => a * (b / a) ** random();
  const some = (share: number, value: () => number, otherwise: number) =>
    random() < share ? value() : otherwise;
  return {
    wheelGeometry: { lean: between(0, 45) * degree, height: between(0.03, 0.15) },
    coefficients: {
      sharpness: between(0.3, 0.85),
      sharpnessLoading: some(0.5, () => between(0, 0.3), 0.03),
      cutLoading: some(0.5, () => between(0, 0.2), 0),
      bypass: between(0, 0.3),
      bypassLoading: some(0.5, () => between(0, 0.5), 0.02),
      leakage: some(0.7, () => log(1e-5, 1e-2), 0),
    },
    rotor: {
      crowdingLoad: log(0.5, 30),
      velocityRatio: between(0.5, 1),
      idleNumber: between(0.2, 1.5),
      restitution: between(0, 0.5),
    },
    air: { flow: between(400, 2500) / 3600, humidity: random() },
    loop: { chokeLoad: between(4, 30) },
    material: {
      density: between(900, 4000),
      sphericity: between(0.6, 1),
      selection: { law: 'impact', friability: log(0.02, 2), threshold: log(0.005, 3) },
      fragments: { law: 'impact', exponent: between(0.4, 1.5), finesScale: log(0.2e-6, 5e-6) },
    },
    feed: { law: 'log-normal', x50: log(50e-6, 3e-3), spread: between(0.1, 0.8) },
    settings: {
      rotorSpeed: between(2000, 7200) * rpm,
      wheelSpeed: between(500, 6000) * rpm,
      feedRate: log(10, 1500) / 3600,
    },
  };
}
