import type { Scenario } from '../../scenario/scenario.ts';

/** What there is to spend and what a run costs; SI. */
export interface Budget {
  /** Powder that may be used [kg]; Infinity where the scenario has no `powder`. */
  readonly powder: number;
  readonly lossPerRun: number;
  readonly minimumRun: number;
  /** [s]. */
  readonly time: number;
  /** From start of feed until a sample is worth taking, and sampling itself [s]. */
  readonly settle: number;
  readonly sample: number;
  /** Between two runs, and to change a wheel [s]. */
  readonly changeOver: number;
  readonly wheelChange: number;
  /** Warming up and the empty run, before the first [s]. */
  readonly empty: number;
}

const MINUTE = 60;
/** Times of a pilot mill (`assumed`): three sample lags of 60 s, a minute of sampling, cleaning, wheel change, warming up. */
const TIMES = { settle: 3, sample: 1, changeOver: 15, wheelChange: 45, empty: 20 } as const;

/** What the floor states instead of the times assumed [s]. */
type StatedTimes = Partial<Pick<Budget, 'settle' | 'sample' | 'changeOver' | 'wheelChange'>>;

/** Budget of a scenario and the hours at hand. */
export function budgetOf({ powder }: Scenario, hours: number, stated: StatedTimes = {}): Budget {
  return {
    powder: powder ? powder.have - powder.reserve : Number.POSITIVE_INFINITY,
    lossPerRun: powder?.lossPerRun ?? 0,
    minimumRun: powder?.minimumRun ?? 0,
    time: hours * 3600,
    settle: TIMES.settle * MINUTE,
    sample: TIMES.sample * MINUTE,
    changeOver: TIMES.changeOver * MINUTE,
    wheelChange: TIMES.wheelChange * MINUTE,
    empty: TIMES.empty * MINUTE,
    ...stated,
  };
}

/** Powder [kg] and time [s] of one run. */
export interface RunCost {
  /** Fed. */
  readonly feed: number;
  /** Fed and lost. */
  readonly powder: number;
  /** With feed on. */
  readonly duration: number;
  /** With change-over and wheel change. */
  readonly time: number;
}

/**
 * Cost of one run: it lasts until a sample is worth taking, and at least until the smallest mass is through.
 *
 * @param wheelBefore wheel of the run before; undefined for the first
 */
export function runCost(budget: Budget, scenario: Scenario, wheelBefore: string | undefined): RunCost {
  const { feedRate, wheel } = scenario.settings;
  const duration = Math.max(budget.settle + budget.sample, budget.minimumRun / feedRate);
  const feed = duration * feedRate;
  const change = wheelBefore !== undefined && wheelBefore !== wheel ? budget.wheelChange : 0;
  return {
    feed,
    powder: feed + budget.lossPerRun,
    duration,
    time: duration + (wheelBefore === undefined ? 0 : budget.changeOver) + change,
  };
}
