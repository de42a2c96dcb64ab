import type { Scale } from '../../model/parameters.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Coefficient, coordinateOf, LOG, numberAt } from './coefficient.ts';
import { limitsOf } from './coefficient-at.ts';
import { NORMAL_95 } from './quantile.ts';

/** Offset of the log scale of a range that begins at 0, as a share of its upper end (`assumed`). */
const OFFSET = 0.1;

/**
 * Every number the file gives as a range or `unknown`: a belief of which the range holds 95 %, and no wall at its ends. A
 * range above 0 is even in its logarithm, one that begins at 0 in ln(x + a tenth of its end), one that holds 0 in itself.
 */
export function rangedCoefficients(scenario: Scenario): Coefficient[] {
  return Object.entries(scenario.uncertain).flatMap(([path, [low, high]]) => {
    const wheel = /^machine\.wheels\.([^.]+)\./.exec(path)?.[1];
    const provenance = scenario.provenance[path];
    const scale = scaleOfRange(low, high);
    const [from, to] = [low, high].map((end) => coordinateOf({ scale }, end)) as [number, number];
    const [lower, upper] = limitsOf(scenario, path);
    return [
      {
        path,
        symbol: provenance?.symbol ?? path.replace(/^.*\./, ''),
        unit: provenance?.unit ?? '1',
        ...(wheel === undefined ? {} : { wheel }),
        prior: numberAt({ scale }, (from + to) / 2),
        scale,
        spread: (to - from) / (2 * NORMAL_95),
        lower: scale.kind === 'log' ? Math.max(0, lower) : lower,
        upper,
      },
    ];
  });
}

/** The scale on which a range is even. */
export function scaleOfRange(low: number, high: number): Scale {
  if (low > 0) return LOG;
  if (low === 0) return { kind: 'log', offset: OFFSET * high };
  return { kind: 'linear', unit: (high - low) / 4 };
}
