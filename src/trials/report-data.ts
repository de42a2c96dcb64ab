import { sizeAt, undersizeAt } from '../model/psd/curve.ts';
import { shownAfter } from '../scenario/casing-of-scenario.ts';
import { percentileOf } from '../scenario/measurement/measured-curve.ts';
import { toShown } from '../scenario/units/display.ts';
import { boundPairs, combinationsKnown, correlationsOf, standingsOf } from './fit/coefficient-summary.ts';
import { modelAt } from './fit/compare.ts';
import type { Fit } from './fit/fit.ts';
import type { IdleNumber } from './fit/idle.ts';
import { leftAsGiven } from './fit/material.ts';
import { trialMisfits } from './fit/misfit.ts';
import { coverageOf } from './foretold.ts';
import type { LoggedTrial, TrialLog } from './log/logged.ts';
import { expectedReadings } from './readings.ts';

const SHARES = [0.1, 0.5, 0.9, 0.95] as const;

/**
 * What a report of trials shows, as plain data: every run measured against the fitted model, the mass balance, the
 * coefficients with their errors, what goes together, and whether the model fits.
 *
 * @param leftOut runs the fit has not seen: foretold from the others and held against what was measured
 */
export function trialReport(
  log: TrialLog,
  fit: Fit,
  idle?: IdleNumber,
  leftOut: readonly LoggedTrial[] = [],
) {
  const misfits = new Map(trialMisfits(fit.solution, fit.comparisons).map((one) => [one.name, one]));
  const { coefficients } = fit.prior;
  const wheels = new Set(fit.comparisons.map(({ trial }) => trial.scenario.settings.wheel));
  return {
    log: log.name,
    ignored: log.ignored,
    foretold: coverageOf(log.trials),
    heldOut: coverageOf(leftOut.map((trial) => ({ ...trial, foretold: foretoldBy(fit, trial) }))),
    fit: {
      chiSquare: fit.chiSquare,
      freedom: fit.freedom,
      probability: fit.probability,
      lackOfFit: fit.lackOfFit,
      suspects: fit.suspects,
      suspicion: fit.suspicion ?? null,
      discrepancy: fit.discrepancy,
      starts: fit.starts,
      agreeing: fit.agreeing,
      effective: Math.round(fit.effective),
      combinations: combinationsKnown(fit),
      leftAsGiven: log.trials[0] ? leftAsGiven(log.trials[0].scenario) : [],
    },
    coefficients: standingsOf(fit).map((standing, i) => ({
      ...standing,
      untried: coefficients[i]!.wheel !== undefined && !wheels.has(coefficients[i]!.wheel),
    })),
    correlations: { paths: coefficients.map(({ path }) => path), matrix: correlationsOf(fit.covariance) },
    boundPairs: boundPairs(fit).map(([one, other, correlation]) => ({ one, other, correlation })),
    idleNumber: idle ?? null,
    runs: log.trials.map((trial) => runReport(trial, fit, misfits.get(trial.name))),
  };
}

/** Readings of a run as the fit foretells them, without a look at what was measured. */
function foretoldBy(fit: Fit, { scenario, duration }: LoggedTrial): LoggedTrial['foretold'] {
  const { power, temperature, x50, x95 } = expectedReadings(scenario, fit, 1, duration);
  return { power, outletTemperature: temperature, x50, x95 };
}

export type TrialReport = ReturnType<typeof trialReport>;

function runReport(
  trial: LoggedTrial,
  fit: Fit,
  misfit: { chiSquare: number; count: number; fits: boolean } | undefined,
) {
  const point = modelAt(trial, fit.prior.coefficients, fit.mean);
  const steady = point.status === 'steady' ? point : undefined;
  const conditions = steady?.state.conditions;
  const sizes = trial.sizes?.points ?? [];
  return {
    name: trial.name,
    flags: trial.flags,
    fits: misfit ? misfit.fits && !fit.suspects.includes(trial.name) : null,
    chiSquare: misfit?.chiSquare ?? null,
    residuals: misfit?.count ?? 0,
    repeats: trial.repeats ?? 0,
    power_kW: pair(
      trial.power?.value,
      trial.idlePower === undefined
        ? conditions?.rotorPower
        : conditions && conditions.grindingPower + trial.idlePower,
      'kW',
    ),
    powerFrom: trial.powerFrom ?? null,
    outletTemperature_C: pair(trial.outletTemperature, shownAtEnd(trial, conditions?.temperature), 'degC'),
    // a short run ends before the casing is warm: what the thermometer would show at rest
    outletAtRest_C: pair(undefined, conditions?.temperature, 'degC').model,
    minutes: trial.duration === undefined ? null : toShown(trial.duration, 'min'),
    percentiles: SHARES.map((share) => ({
      share,
      ...pair(trial.sizes && percentileOf(trial.sizes, share), steady && sizeAt(steady.curve, share), 'um'),
    })),
    curve: {
      sizes_um: sizes.map(({ size }) => toShown(size, 'um')),
      measured: sizes.map(({ undersize }) => undersize),
      model: sizes.map(({ size }) => (steady ? undersizeAt(steady.curve, size) : Number.NaN)),
    },
    closure: trial.closure ?? null,
  };
}

/** What the thermometer shows at the end of a run from cold; the steady value where its duration is not known. */
function shownAtEnd({ scenario, duration }: LoggedTrial, steady: number | undefined): number | undefined {
  return steady === undefined || duration === undefined ? steady : shownAfter(scenario, steady, duration);
}

function pair(measured: number | undefined, model: number | undefined, unit: string) {
  const shown = (value: number | undefined): number | null =>
    value === undefined || Number.isNaN(value) ? null : toShown(value, unit);
  return { measured: shown(measured), model: shown(model) };
}
