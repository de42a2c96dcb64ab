import { withValues } from '../scenario/operating-point.ts';
import { marginOf } from '../scenario/outcome/spec.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { fromShown } from '../scenario/units/display.ts';
import type { MarginBand } from '../search/window/window.ts';
import { middleHalves } from './middle-half.ts';
import type { PlaneAxis } from './plane.ts';

/** Nodes along each axis. */
const NODES = 9;

/**
 * Where each limit may lie: the middle half of every margin over the samples of the coefficients, on a coarse lattice of
 * the plane.
 *
 * @returns one band a spec line, by its text
 */
export function bandsView(
  scenario: Scenario,
  x: PlaneAxis,
  y: PlaneAxis,
): Readonly<Record<string, MarginBand>> {
  const halvesAt = middleHalves(
    scenario,
    scenario.spec.map((requirement) => (point) => marginOf(requirement, point)),
    'left out',
  );
  const lattice = { x: coarse(x.levels), y: coarse(y.levels) };
  const size = NODES * NODES;
  const bands = scenario.spec.map(() => ({ low: new Float64Array(size), high: new Float64Array(size) }));
  let node = 0;
  for (const yLevel of lattice.y) {
    for (const xLevel of lattice.x) {
      const at = withValues(scenario, [x, y], [fromShown(xLevel, x.shownIn), fromShown(yLevel, y.shownIn)]);
      halvesAt(at).forEach(({ low, high }, k) => {
        bands[k]!.low[node] = low;
        bands[k]!.high[node] = high;
      });
      node++;
    }
  }
  return Object.fromEntries(scenario.spec.map(({ text }, k) => [text, { lattice, ...bands[k]! }]));
}

function coarse(levels: Float64Array): Float64Array {
  const [low, high] = [levels[0]!, levels[levels.length - 1]!];
  return Float64Array.from({ length: NODES }, (_, i) => low + ((high - low) * i) / (NODES - 1));
}
