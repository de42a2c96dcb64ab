import { Document, isSeq } from 'yaml';
import type { LawVersions } from '../../scenario/outside/laws-used.ts';
import { siUnitOf } from '../../scenario/units/display.ts';
import { numbersAt } from '../fit/coefficient.ts';
import { standingsOf } from '../fit/coefficient-summary.ts';
import type { Fit } from '../fit/fit.ts';
import type { IdleNumber } from '../fit/idle.ts';
import { trialMisfits } from '../fit/misfit.ts';
import { rowOf } from './draw-row.ts';
import type { MadeOf } from './made-of.ts';

/** What a calibration file says besides the numbers. */
interface CalibrationHead {
  /** Scenario's title and trial log's name. */
  readonly scenario: string;
  readonly log: string;
  /** Names of the runs used. */
  readonly trials: readonly string[];
  /** ISO date. */
  readonly date: string;
  /** What it is of and what was tried; absent in a file written by hand: then it is taken as of any. */
  readonly of?: MadeOf;
  /** Version of the program that fitted it. */
  readonly version?: string;
  /** Modules of the user's own whose laws were fitted: version by name. */
  readonly laws?: LawVersions;
  /** What of the materials was not fitted, in words. */
  readonly leftAsGiven?: readonly string[];
}

const DIGITS = 10;
const DRAW_DIGITS = 6;
const short = (value: number): number => Number(value.toPrecision(DRAW_DIGITS));
const number = (value: number): number => Number(value.toPrecision(DIGITS));

/**
 * A calibration as YAML: `values` that a scenario takes up, each with label and source, and `joint`, the distribution of
 * the logarithms that gives every band.
 */
export function calibrationFile(fit: Fit, head: CalibrationHead, idle?: IdleNumber): string {
  const { leftAsGiven, ...named } = head;
  const outliers = trialMisfits(fit.solution, fit.comparisons)
    .filter(({ name, fits }) => !fits || fit.suspects.includes(name))
    .map(({ name }) => name);
  const file = new Document({
    label: 'fitted',
    ...named,
    fit: {
      chiSquare: number(fit.chiSquare),
      freedom: number(fit.freedom),
      probability: number(fit.probability),
      lackOfFit: fit.lackOfFit,
      ...(outliers.length > 0 ? { runsThatDoNotFit: outliers } : {}),
      starts: fit.starts,
      agreeing: fit.agreeing,
      effective: Math.round(fit.effective),
      ...(leftAsGiven && leftAsGiven.length > 0 ? { leftAsGiven } : {}),
    },
    values: { ...(idle ? idleValue(idle, head) : {}), ...fittedValues(fit, head) },
    joint: jointOf(fit),
  });
  for (const name of ['covariance', 'priorCovariance']) oneLineEach(file.getIn(['joint', name]));
  return `# written by grindloop fit; a scenario takes it up by calibration: FILE\n${file.toString({ lineWidth: 0 })}`;
}

interface Value {
  readonly value: string;
  readonly label: 'fitted' | 'assumed';
  readonly source: string;
}

/** Every coefficient by its path; `assumed` where the trials left it at its prior. */
function fittedValues(fit: Fit, { trials, log, date }: CalibrationHead): Record<string, Value> {
  const by = `fit to ${trials.length} trials of ${log}, ${date}`;
  const wheels = new Set(fit.comparisons.map(({ trial }) => trial.scenario.settings.wheel));
  const entries = standingsOf(fit).flatMap(({ unit, low, high, state }, i): [string, Value][] => {
    const spread = `95 % within ${withUnit(low, unit, 3)} to ${withUnit(high, unit, 3)}`;
    const coefficient = fit.prior.coefficients[i]!;
    const { wheel } = coefficient;
    const untried = wheel !== undefined && !wheels.has(wheel);
    const held = untried
      ? 'wheel without trials, inferred from the others by the'
      : 'prior value, hardly touched by the';
    const assumed = untried || state === 'held';
    const label = assumed ? 'assumed' : 'fitted';
    const source = assumed ? `${held} ${by}; ${spread}` : `${by}; ${spread}`;
    return numbersAt(coefficient, fit.mean[i]!).map(([path, value]) => [
      path,
      { value: withUnit(value, unit), label, source },
    ]);
  });
  return Object.fromEntries(entries);
}

function idleValue({ value, runs }: IdleNumber, { date }: CalibrationHead): Record<string, Value> {
  const source = `idle power of ${runs} runs, ${date}`;
  return {
    'machine.rotor.coefficients.idleNumber': { value: `${number(value)}`, label: 'fitted', source },
  };
}

/** The distribution of the logarithms. */
function jointOf({ prior, mean, covariance, draws, discrepancy }: Fit) {
  return {
    discrepancy: number(discrepancy),
    coefficients: prior.coefficients.map((one) => ({
      ...one,
      // a copy each: YAML would write a shared record once and refer to it
      scale: { ...one.scale },
      prior: number(one.prior),
      spread: number(one.spread),
      ...finiteLimits(one),
    })),
    mean: mean.map(number),
    covariance: covariance.to2DArray().map((row) => row.map(number)),
    draws: drawsText(draws),
    priorCovariance: prior.covariance.to2DArray().map((row) => row.map(number)),
  };
}

/** Limits as YAML can hold them: one that does not exist is left out. */
function finiteLimits({ lower, upper }: Fit['prior']['coefficients'][number]) {
  return {
    ...(Number.isFinite(lower) ? { lower: number(lower) } : {}),
    ...(Number.isFinite(upper) ? { upper: number(upper) } : {}),
  };
}

/** Draws as one text, a draw a line: thousands of numbers that no reader of YAML need look at one by one. */
function drawsText(draws: Fit['draws']): string {
  return `${draws.map((draw) => rowOf(draw).map(short).join(' ')).join('\n')}\n`;
}

/** A row a line: a matrix is read across. */
function oneLineEach(rows: unknown): void {
  if (!isSeq(rows)) return;
  for (const row of rows.items) if (isSeq(row)) row.flow = true;
}

/** A value in SI as a scenario reads it. */
function withUnit(value: number, unit: string, digits = DIGITS): string {
  const si = siUnitOf(unit);
  const text = `${Number(value.toPrecision(digits))}`;
  return si === '1' ? text : `${text} ${si}`;
}
