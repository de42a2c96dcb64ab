import { dirname, resolve } from 'node:path';
import type { Scenario } from '../../scenario/scenario.ts';
import { bytesOfMeasurement } from '../measurement-file.ts';
import type { LogFiles } from './log-files.ts';
import type { TrialLog } from './logged.ts';
import { type LogOptions, trialLogOf, trialLogsOf } from './read-log.ts';

/** Logs and size files of a disk, each relative to the log that names it. */
const ON_DISK: LogFiles = {
  placeOf: (name, log) => resolve(dirname(log), name),
  readBytes: bytesOfMeasurement,
};

/** `trialLogOf` with the files of the disk. */
export async function readTrialLog(
  path: string,
  scenario: Scenario,
  options: LogOptions = {},
): Promise<TrialLog> {
  return trialLogOf(path, scenario, ON_DISK, options);
}

/** `trialLogsOf` with the files of the disk. */
export async function readTrialLogs(
  paths: readonly string[],
  scenario: Scenario,
  options: LogOptions = {},
): Promise<TrialLog> {
  return trialLogsOf(paths, scenario, ON_DISK, options);
}
