import { solve } from '../../model/loop/solve.ts';
import { massesBetween } from '../../model/time/off-spec.ts';
import { runInTime } from '../../model/time/run-in-time.ts';
import { filled } from '../../plant/presets.ts';
import { toCase } from '../../scenario/operating-point.ts';
import { sizeJudge } from '../../scenario/outcome/size-spec.ts';
import { TIME_NUMBERS } from '../../scenario/read/plant-and-time-blocks.ts';
import type { Scenario } from '../../scenario/scenario.ts';

/** What a change from one grade to another costs. */
export interface Changeover {
  /** Fed after the change until a sample is, and stays, in the specification of the new grade [kg]. */
  readonly thrownAway: number;
  /** [s] */
  readonly time: number;
}

/** Sample lags the first grade is run, and the second is looked at: e⁻⁵ and e⁻⁸ of what was there is left. */
const BEFORE = 5;
const AFTER = 8;

/**
 * What must be thrown away when a mill goes over to another grade with its ducts, cyclone and filter as they are (eq. 27, the
 * first-order lag of a sample behind it): coarse powder that still comes out spoils a finer grade, and fine powder one with a
 * lower limit of size. Both are run in time, one after the other, without noise; a change of wheel is taken to empty neither mill nor ducts.
 *
 * @param from scenario at the settings of the grade before
 * @param to scenario at the settings of the next grade, with its spec
 * @returns undefined where the next grade does not come into its specification
 */
export function changeover(from: Scenario, to: Scenario): Changeover | undefined {
  const { step, sampleLag } = filled(TIME_NUMBERS, to.blocks.time ?? {}) as {
    step: number;
    sampleLag: number;
  };
  const inSpec = sizeJudge(to.spec);
  if (!inSpec || sampleLag === 0) return { thrownAway: 0, time: 0 };
  const [first, second] = [toCase(from), toCase(to)];
  const at = Math.ceil((BEFORE * sampleLag) / step) * step;
  const present = (time: number) => (time < at - step / 2 ? first : second);
  const series = runInTime(first, {
    duration: at + AFTER * sampleLag,
    step,
    sampleLag,
    every: 1,
    grid: solve(second, { choke: false }).grid,
    caseAt: present,
    feedRate: (time, k) => present(time).components[k]!.share * present(time).settings.feedRate,
    inSpec,
  });
  if (Number.isFinite(series.chokedAt)) return undefined;
  const last = series.sampleInSpec.lastIndexOf(false);
  if (last === series.time.length - 1) return undefined;
  const until = series.time[last + 1]!;
  if (last < 0 || until <= at) return { thrownAway: 0, time: 0 };
  return { thrownAway: massesBetween(series, at - step / 2, until).fed, time: until - at };
}
