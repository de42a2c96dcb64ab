import { REPEATABILITY_SOURCE } from '../../scenario/measurement/repeatability.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import type { TrialReport } from '../../trials/report-data.ts';
import { listed } from '../join-words.ts';

/** Probability of a larger χ² above which residuals are smaller than the stated errors allow. */
const TOO_GOOD = 0.99;
/** Effective sample size below which the ends of an interval are rough. */
const FEW = 100;
/** Kelvin between thermometer and model worth a check. */
const WARM = 2;
/** Kelvin by which a short run must miss the steady outlet temperature to be named. */
const MISSED = 0.3;

/** How many coefficients the trials determine, and whether the model fits them; the first sentence is the answer. */
export function fitSentences({ runs, coefficients, fit }: TrialReport): string[] {
  const determined = coefficients.filter(({ state }) => state === 'settled').map(({ symbol }) => symbol);
  const which = determined.length > 0 ? `: ${listed(determined)}` : '';
  const test = `χ² ${formatNumber(fit.chiSquare)} on ${formatNumber(fit.freedom)} degrees of freedom, probability ${fit.probability.toPrecision(2)}`;
  return [
    `${runs.length} ${runs.length === 1 ? 'trial determines' : 'trials determine'} ${determined.length} of ${coefficients.length} coefficients (${formatNumber(fit.combinations, 2)} effective parameters)${which}.`,
    fit.lackOfFit
      ? `The model does NOT fit within the measuring errors (${test}): every band is widened by ${formatNumber(100 * fit.discrepancy, 2)} % of size.`
      : `The model fits within the measuring errors (${test}).`,
    ...(fit.probability > TOO_GOOD
      ? ['The trials scatter less than the measuring errors assumed: the intervals are on the wide side.']
      : []),
  ];
}

/** Coefficients that only a combination of is determined, that ended at a bound, and what was left as given. */
export function coefficientSentences({ boundPairs, coefficients, fit }: TrialReport): string[] {
  return [
    ...boundPairs.map(
      ({ one, other, correlation }) =>
        `${one} and ${other} are strongly correlated (${correlation.toFixed(2)}); only their combination is determined.`,
    ),
    ...coefficients
      .filter(({ atBound }) => atBound)
      .map(
        ({ symbol, path }) =>
          `${symbol} (${path}) ended at the end of its allowed range: look for a fault in trials or scenario.`,
      ),
    ...fit.leftAsGiven,
  ];
}

/** What is to be looked at, run by run, and the thermometer, which stays out of the fit. */
export function runSentences(report: TrialReport): string[] {
  return [
    ...report.runs.flatMap(({ name, flags, fits }) => [
      ...flags.map((flag) => `Run ${name}: ${flag}`),
      ...(fits === false ? [misfitSentence(name, report.fit.suspicion)] : []),
    ]),
    ...temperatureSentences(report.runs),
  ];
}

/** A run that does not fit, and what mends the fit where one entry alone does. */
export function misfitSentence(name: string, suspicion: TrialReport['fit']['suspicion']): string {
  if (!suspicion?.runs.includes(name)) return `Run ${name} does not fit with the others (χ² beyond 0.1 %).`;
  const other = suspicion.runs.filter((one) => one !== name).join();
  if (suspicion.kind === 'exchanged')
    return `Run ${name}: its size file seems to be exchanged with that of run ${other}; exchanged back, all runs fit. Look at both lines of the log.`;
  const without = other === '' ? 'without it' : `without it and run ${other}`;
  return `Run ${name} does not fit with the others, and ${without} they fit: look at its line of the log; --without ${name} leaves it out.`;
}

/** Outlet temperatures stay out of the fit, which power has determined already; they tell of air flow and heat loss. */
function temperatureSentences(runs: TrialReport['runs']): string[] {
  const gaps = runs.flatMap(({ outletTemperature_C: { measured, model } }) =>
    measured === null || model === null ? [] : [measured - model],
  );
  if (gaps.length === 0) return [];
  const mean = gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length;
  const seen = `The outlet temperature, not used by the fit, is ${formatNumber(Math.abs(mean), 2)} K ${mean < 0 ? 'below' : 'above'} the model on average`;
  return [
    Math.abs(mean) > WARM ? `${seen}: check air flow, inlet temperature and heat loss.` : `${seen}.`,
    ...shortRunSentences(runs),
  ];
}

/** Runs that ended before the casing was warm: their thermometer is held against what it shows by then. */
function shortRunSentences(runs: TrialReport['runs']): string[] {
  const short = runs.filter(
    ({ outletTemperature_C: { measured, model }, outletAtRest_C: rest }) =>
      measured !== null && model !== null && rest !== null && Math.abs(rest - model) > MISSED,
  );
  const [shortest] = short.toSorted((a, b) => a.minutes! - b.minutes!);
  if (!shortest) return [];
  const { minutes, name, outletTemperature_C: at, outletAtRest_C: rest } = shortest;
  return [
    `A run of ${formatNumber(minutes!, 2)} min cannot show the steady outlet temperature: run ${name} shows ${formatNumber(at.model!, 3)} °C by then and ${formatNumber(rest!, 3)} °C once the casing is warm. Measured values are compared with the former.`,
  ];
}

/** How the fit was made, and how far its intervals can be trusted. */
export function fitNotes({ fit, ignored }: TrialReport): string[] {
  return [
    `${fit.agreeing} of ${fit.starts} starts came to the same answer; weights: ${REPEATABILITY_SOURCE}; power 3 % or as the log says`,
    ...(fit.effective < FEW
      ? [`Effective sample size is only ${fit.effective}: treat the intervals as rough.`]
      : []),
    ...(ignored.length > 0 ? [`Columns kept as remarks, ignored by the fit: ${ignored.join(', ')}.`] : []),
  ];
}
