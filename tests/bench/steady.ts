import type { Case } from '../../src/model/case.ts';
import { climb } from '../../src/model/loop/find-steady-root.ts';
import { type Kept, prepare } from '../../src/model/loop/workspace.ts';
import { changed, PILOT, rpm, WHEELS } from '../cases.ts';
import { plainProblem, plainSteady } from '../reference/plain.ts';
import { uniform } from '../reference/random-cases.ts';

/** Operating points of the pilot mill over its whole range of settings and its three wheels. */
export function spreadOfSettings(count: number, seed = 1): Case[] {
  const random = uniform(seed);
  const between = (a: number, b: number) => a + (b - a) * random();
  const wheels = Object.values(WHEELS);
  return Array.from({ length: count }, (_, i) => ({
    ...changed(PILOT, {
      wheel: wheels[i % wheels.length]!,
      settings: {
        rotorSpeed: between(4000, 7000) * rpm,
        wheelSpeed: between(1000, 5000) * rpm,
        feedRate: between(100, 500) / 3600,
      },
    }),
    components: PILOT.components,
  }));
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)]!;
}

/** Median time of one coupled steady state [µs], and how many evaluations of Φ it took on average. */
export function timeSteady(
  cases: readonly Case[],
  rounds = 5,
): { readonly steady_us: number; readonly evaluations: number } {
  const kept: Kept = {};
  const perRound: number[] = [];
  let evaluations = 0;
  for (let round = 0; round < rounds; round++) {
    evaluations = 0;
    const times = cases.map((c) => {
      const start = process.hrtime.bigint();
      const w = prepare(c, kept);
      climb(w);
      const end = process.hrtime.bigint();
      evaluations += w.evaluations;
      return Number(end - start) / 1e3;
    });
    perRound.push(median(times));
  }
  // the first rounds compile
  return { steady_us: median(perRound.slice(1)), evaluations: evaluations / cases.length };
}

/** Median time of the same physics through dense LU solves of ml-matrix [µs]. */
export function timeDense(cases: readonly Case[]): number {
  const problem = plainProblem(cases[0]!);
  return median(
    cases.map((c) => {
      const own = { ...problem, case: c };
      const start = process.hrtime.bigint();
      plainSteady(c, own);
      return Number(process.hrtime.bigint() - start) / 1e3;
    }),
  );
}
