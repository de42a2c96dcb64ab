import { InputError } from '../../scenario/errors.ts';
import { usedFromOutside, versionsOf } from '../../scenario/outside/laws-used.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { madeOf } from '../../trials/calibration/made-of.ts';
import { calibrationFile } from '../../trials/calibration/write.ts';
import { settlesNothing } from '../../trials/fit/coefficient-summary.ts';
import { fitTrials } from '../../trials/fit/fit.ts';
import { idleNumberOf } from '../../trials/fit/idle.ts';
import type { TrialLog } from '../../trials/log/logged.ts';
import { type TrialReport, trialReport } from '../../trials/report-data.ts';

/** How a fit is made, and what its calibration says of where it comes from. */
export interface FitWish {
  readonly starts: number;
  readonly seed: number;
  /** Version of the program, for the calibration's head. */
  readonly version: string;
  /** Runs the fit is not to see, by name: foretold from the others. */
  readonly without?: readonly string[];
  /** Told the share done, 0…1. */
  readonly progress?: (share: number) => void;
}

/** Starts and seed of a fit unless others are asked for. */
export const USUAL_FIT = { starts: 8, seed: 1 } as const;

/** What trials say of a scenario: the report, and the calibration as the text of a file; or why there is none, in words. */
export type FitAnswer =
  | { readonly report: TrialReport; readonly calibration: string }
  | { readonly noFit: string };

/**
 * Fits a scenario to a trial log.
 *
 * @param scenario without a calibration
 * @throws InputError where there is nothing to fit to, a run left out is none of the log, or the scenario is calibrated already
 */
export function fitAnswer(scenario: Scenario, log: TrialLog, wish: FitWish): FitAnswer {
  refuseCalibrated(scenario);
  const without = wish.without ?? [];
  const used = chosenRuns(log, without);
  const leftOut = log.trials.filter(({ name }) => without.includes(name));
  const { starts, seed, progress } = wish;
  const found = fitTrials(scenario, used.trials, { starts, seed, ...(progress ? { progress } : {}) });
  if (!found)
    return {
      noFit:
        'the model has no steady state at the settings of these trials: check settings, feed and material',
    };
  if (settlesNothing(found))
    return {
      noFit:
        'these trials constrain no coefficient, so no calibration was written; measure sizes over a wider range of settings',
    };
  const idle = idleNumberOf(used.trials);
  const report = trialReport(used, found, idle, leftOut);
  const trials = found.comparisons.map(({ trial }) => trial);
  const laws = versionsOf(usedFromOutside(scenario));
  const head = {
    scenario: scenario.title,
    log: used.name.split(', ').map(withoutFolder).join(', '),
    trials: trials.map(({ name }) => name),
    leftAsGiven: report.fit.leftAsGiven,
    of: madeOf(scenario, trials),
    version: wish.version,
    ...(laws ? { laws } : {}),
    date: new Date().toISOString().slice(0, 10),
  };
  return { report, calibration: calibrationFile(found, head, idle) };
}

/** @throws InputError where the scenario carries a calibration already */
function refuseCalibrated({ calibration }: Scenario): void {
  if (!calibration) return;
  const message = 'a fit starts from the uncalibrated scenario: load it without its calibration';
  throw new InputError([{ place: 'calibration', message }]);
}

/**
 * The log without the runs left out.
 *
 * @throws InputError where a name is none of the log's, or nothing is left to fit to
 */
export function chosenRuns(log: TrialLog, without: readonly string[]): TrialLog {
  const names = log.trials.map(({ name }) => name);
  const faults = without
    .filter((name) => !names.includes(name))
    .map((name) => ({ place: '--without', message: `no run ${name}; there are ${names.join(', ')}` }));
  const trials = log.trials.filter(({ name }) => !without.includes(name));
  const useful = trials.some(({ sizes, power }) => sizes || power);
  const empty = useful ? [] : [{ place: log.name, message: 'no run has sizes or power to fit to' }];
  if (faults.length + empty.length > 0) throw new InputError([...faults, ...empty]);
  return { ...log, trials };
}

function withoutFolder(path: string): string {
  return path.replace(/^.*[\\/]/, '');
}
