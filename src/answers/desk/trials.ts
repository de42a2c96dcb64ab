import { type Fault, InputError } from '../../scenario/errors.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { coverageOf } from '../../trials/foretold.ts';
import { filledIn } from '../../trials/log/empty-log.ts';
import type { LoggedTrial, TrialLog } from '../../trials/log/logged.ts';
import { trialLogOf } from '../../trials/log/read-log.ts';
import type { AnswerTable } from '../document.ts';
import { type FitAnswer, fitAnswer, USUAL_FIT } from '../fit/fit-answer.ts';
import { foretoldTable } from '../foretold-table.ts';
import { gradeSheet } from '../grades/grade-sheet.ts';
import { type MeasuredTrial, measuredTrials } from '../measured-trials.ts';
import { budgetFor, type NextWish, nextAnswer, USUAL_VISIT } from '../next/next-answer.ts';
import type { RunSheet } from '../next/run-sheet-content.ts';
import { logFiles, logNameIn } from './campaign-log.ts';
import type { CaseFiles } from './desk-files.ts';
import { windowOffer } from './window-axes.ts';

/** The log of a campaign as it reads with the case. */
export interface LogFacts {
  readonly name: string;
  readonly faults: readonly Fault[];
  /** Sentences on runs that deserve a look, as the fit will say them. */
  readonly flags: readonly string[];
  /** Runs with sizes or power: what a fit can use. */
  readonly usable: number;
  readonly measured: readonly MeasuredTrial[];
  /** Readings predicted before the runs beside those measured; absent where nothing was predicted. */
  readonly foretold?: AnswerTable;
}

/** What the log says; undefined where the campaign has none. */
export function logFacts(scenario: Scenario, { files }: CaseFiles): LogFacts | undefined {
  const name = logNameIn(files);
  if (name === undefined) return undefined;
  const nothing = { name, flags: [], usable: 0, measured: [] };
  try {
    const { trials } = trialLogOf(name, scenario, logFiles(files));
    const foretold = foretoldTable(coverageOf(trials));
    const paths = [{ path: 'wheel' }, ...windowOffer(scenario).axes];
    return {
      name,
      faults: [],
      flags: trials.flatMap((trial) => trial.flags.map((flag) => `Run ${trial.name}: ${flag}`)),
      usable: trials.filter(({ sizes, power }) => sizes || power).length,
      measured: measuredTrials(trials, paths),
      ...(foretold ? { foretold } : {}),
    };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { ...nothing, faults: error.faults };
  }
}

/**
 * Fits the case to its log as the command does, with the starts and seed it has unless told otherwise.
 *
 * @throws InputError where the log has faults or is missing
 */
export function deskFit(
  scenario: Scenario,
  { files }: CaseFiles,
  version: string,
  progress: (share: number) => void,
): FitAnswer {
  return fitAnswer(scenario, logOf(scenario, files), { ...USUAL_FIT, version, progress });
}

function logOf(scenario: Scenario, files: CaseFiles['files']): TrialLog {
  const name = logNameIn(files);
  if (name === undefined)
    throw new InputError([{ place: 'trials', message: 'there is no trial log yet; type one or open one' }]);
  return trialLogOf(name, scenario, logFiles(files));
}

/** Runs of the log; none where there is no log or it has faults. */
export function loggedTrials(scenario: Scenario, files: CaseFiles['files']): readonly LoggedTrial[] {
  const name = logNameIn(files);
  if (name === undefined) return [];
  try {
    return trialLogOf(name, scenario, logFiles(files)).trials;
  } catch (error) {
    if (error instanceof InputError) return [];
    throw error;
  }
}

/** What a visit allows, as far as the desk asks. */
export type Visit = Pick<NextWish, 'trials' | 'hours' | 'method'>;

/** What to run next, of a case with grades one run a grade: the sheet, and a line of cells by column for each planned run. */
export function deskNext(
  scenario: Scenario,
  visit: Visit,
): { readonly sheet: RunSheet; readonly planned: readonly Readonly<Record<string, string>>[] } {
  const wish = { ...USUAL_VISIT, ...visit };
  const { sheet, lines } = scenario.grades
    ? gradeSheet(scenario, budgetFor(scenario, wish), wish.seed, wish.method)
    : nextAnswer(scenario, wish);
  return { sheet, planned: lines.map(filledIn) };
}
