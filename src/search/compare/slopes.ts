import { toCase, valueAt, withValue } from '../../scenario/operating-point.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { cutSizeOf } from './values.ts';

/** Relative change of cut size and of the feed at choke per relative change of one geometry number. */
export interface Slope {
  readonly key: string;
  /** d ln x_c / d ln g; per radian for a lean of 0. */
  readonly cut: number;
  /** d ln F_c / d ln g. */
  readonly choke: number;
}

const KEYS = ['diameter', 'height', 'vanes', 'thickness', 'lean'] as const;
const STEP = 0.01;
/** Step of an angle that stands at zero [rad]. */
const TURN = 0.02;

/** How cut size and capacity to choke follow each geometry number of the chosen wheel, speed held: central differences. */
export function slopesOf(scenario: Scenario): Slope[] {
  return KEYS.flatMap((key): Slope[] => {
    const path = `machine.wheels.${scenario.settings.wheel}.geometry.${key}`;
    const value = valueAt(scenario, path);
    if (typeof value !== 'number') return [];
    const step = value === 0 ? TURN : STEP * value;
    const at = (each: number) => solvePoint(toCase(withValue(scenario, path, each)));
    const [up, down] = [at(value + step), value === 0 ? at(0) : at(value - step)];
    if (up.status === 'choked' || down.status === 'choked') return [];
    const width = value === 0 ? step : 2 * STEP;
    const slope = (a: number, b: number) => Math.log(a / b) / width;
    return [
      {
        key,
        cut: slope(cutSizeOf(up), cutSizeOf(down)),
        choke: slope(up.state.feedAtChoke, down.state.feedAtChoke),
      },
    ];
  });
}
