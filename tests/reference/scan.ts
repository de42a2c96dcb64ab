import { inletAir } from '../../src/model/air.ts';
import type { Case } from '../../src/model/case.ts';
import { circulationCurve } from '../../src/model/loop/solve.ts';

/** Downward crossings of y(G) = Φ(G)/G − 1 on a dense logarithmic scan from F to λ_max m_air. */
export interface Scan {
  /** Intervals [low, high] over which y turns from positive to not positive, in order. */
  readonly crossings: readonly (readonly [number, number])[];
  /** Whether a circulating flow lies in the first of them, or in one that only a finer scan around it shows. */
  readonly agrees: (circulating: number) => boolean;
}

/** Φ/G − 1 is taken as zero below this: the program's own tolerance on the root. */
const ZERO = 1e-11;

export function scan(c: Case, points: number): Scan {
  const F = c.settings.feedRate;
  const top = c.loop.chokeLoad * inletAir(c.air).massFlow;
  const crossings = F > top ? [] : between(c, F, top, points);
  const agrees = (circulating: number) => {
    const first = crossings[0];
    const slack = 1 + 1e-9;
    if (first && circulating >= first[0] / slack && circulating <= first[1] * slack) return true;
    // a pair of roots narrower than the scan: it must come before the first crossing seen, and show on a finer scan
    if (first && circulating > first[1] * slack) return false;
    const step = (top / F) ** (3 / points);
    const finer = between(c, Math.max(F, circulating / step), Math.min(top, circulating * step), points);
    const own = finer[0];
    return own !== undefined && circulating >= own[0] / slack && circulating <= own[1] * slack;
  };
  return { crossings, agrees };
}

function between(c: Case, low: number, high: number, points: number): (readonly [number, number])[] {
  const flows = Array.from({ length: points + 1 }, (_, k) => low * (high / low) ** (k / points));
  const around = circulationCurve(c, flows);
  const found: (readonly [number, number])[] = [];
  let above = true;
  flows.forEach((flow, k) => {
    const y = around[k]! / flow - 1;
    if (above && y <= ZERO) found.push([k === 0 ? flow : flows[k - 1]!, flow]);
    above = y > ZERO;
  });
  return found;
}
