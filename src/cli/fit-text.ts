import { textTable } from '../answers/text-table.ts';
import { REPEATABILITY_SOURCE } from '../scenario/measurement/repeatability.ts';
import { formatNumber } from '../scenario/units/display.ts';
import type { Coverage } from '../trials/foretold.ts';
import type { TrialReport } from '../trials/report-data.ts';

/** What a fit found, on one screen: coefficients, what goes together, runs, and how far to trust it. */
export function fitAsText(report: TrialReport, out: string | undefined): string {
  const { coefficients, fit: summary } = report;
  const settled = coefficients.filter(({ state }) => state === 'settled');
  const lines = [
    `${report.runs.length} trials settle ${settled.length} of ${coefficients.length} coefficients (${settled.map(({ symbol }) => symbol).join(', ') || 'none'}); they carry ${formatNumber(summary.combinations, 2)} independent facts about them.`,
    summary.lackOfFit
      ? `The model does NOT fit within the measuring errors (χ² ${formatNumber(summary.chiSquare)} on ${formatNumber(summary.freedom)} degrees of freedom, chance ${summary.probability.toPrecision(2)}): every band is widened by ${formatNumber(100 * summary.discrepancy, 2)} % of size.`
      : `The model fits within the measuring errors (χ² ${formatNumber(summary.chiSquare)} on ${formatNumber(summary.freedom)} degrees of freedom, chance ${summary.probability.toPrecision(2)}).`,
    ...(summary.probability > TOO_GOOD
      ? ['They scatter less than the measuring errors assumed: the intervals are on the wide side.']
      : []),
    '',
    coefficientTable(coefficients),
    ...summary.leftAsGiven,
    '',
    ...report.boundPairs.map(
      ({ one, other, correlation }) =>
        `${one} and ${other} go together (correlation ${correlation.toFixed(2)}): only their combination is known.`,
    ),
    ...coefficients
      .filter(({ atBound }) => atBound)
      .map(
        ({ symbol, path }) =>
          `${symbol} (${path}) ended at the end of its allowed range: look for a fault in trials or scenario.`,
      ),
    '',
    runTable(report),
    ...report.runs.flatMap(({ name, flags, fits }) => [
      ...flags.map((flag) => `run ${name}: ${flag}`),
      ...(fits === false ? [misfitInWords(name, summary.suspicion)] : []),
    ]),
    ...temperatureCheck(report),
    ...foretoldLines(report.foretold, 'foretold'),
    ...foretoldLines(report.heldOut, 'foretold from the other runs'),
    ...(report.ignored.length > 0
      ? [`Columns kept as remarks, ignored by the fit: ${report.ignored.join(', ')}.`]
      : []),
    '',
    `${summary.agreeing} of ${summary.starts} starts came to the same answer. Weights: ${REPEATABILITY_SOURCE}; power 3 % or as the log says.`,
    ...(summary.effective < FEW
      ? [`The intervals rest on ${summary.effective} effective points only: take them as rough.`]
      : []),
    out === undefined
      ? 'Nothing was written; -o CAL writes the calibration.'
      : `Written to ${out}; a scenario takes it up by calibration: ${out}`,
  ];
  return `${lines.filter((line, i) => line !== '' || lines[i - 1] !== '').join('\n')}\n`;
}

/** What was foretold beside what came out, run by run, and how many readings lay inside. */
function foretoldLines({ readings, inside, of }: Coverage, how: string): string[] {
  if (of === 0) return [];
  const digits = (value: number): string => formatNumber(value, 3);
  const rows = readings.map(({ run, reading, unit, low, median, high, measured, inside: within }) => [
    run,
    `${reading} [${unit}]`,
    `${digits(median)} (${digits(low)} to ${digits(high)})`,
    digits(measured),
    within ? 'yes' : 'NO',
  ]);
  return [
    '',
    textTable([['run', 'reading', `${how} (95 %)`, 'measured', 'inside'], ...rows]),
    `Of ${of} readings ${how} with a 95 % band ${inside} lay inside.`,
  ];
}

function misfitInWords(name: string, suspicion: TrialReport['fit']['suspicion']): string {
  if (!suspicion?.runs.includes(name)) return `run ${name}: does not fit with the others (χ² beyond 0.1 %)`;
  const others = suspicion.runs.filter((one) => one !== name);
  if (suspicion.kind === 'exchanged')
    return `run ${name}: its size file and that of run ${others.join()} seem to be exchanged: with each in the other's place all runs fit; look at both lines of the log`;
  const together = others.length > 0 ? ` and ${others.join()}` : '';
  return `run ${name}: does not fit with the others, and without it${together} they fit: look at its line of the log; --without ${name} leaves it out`;
}

const WARM = 2;
/** Chance of a larger χ² above which residuals are smaller than the stated errors allow. */
const TOO_GOOD = 0.99;
/** Effective points below which the ends of an interval are rough. */
const FEW = 100;

/** Outlet temperatures stay out of the fit, which power has settled already; they tell of air flow and heat loss. */
function temperatureCheck({ runs }: TrialReport): string[] {
  const gaps = runs.flatMap(({ outletTemperature_C: { measured, model } }) =>
    measured === null || model === null ? [] : [measured - model],
  );
  if (gaps.length === 0) return [];
  const mean = gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length;
  const seen = `Outlet temperature, kept out of the fit: ${formatNumber(mean, 2)} K off the model on average`;
  return [
    Math.abs(mean) > WARM ? `${seen}: check air flow, inlet temperature and heat loss.` : `${seen}.`,
    ...shortRuns(runs),
  ];
}

/** Kelvin by which a short run must miss the steady outlet temperature to be named. */
const MISSED = 0.3;

/** Runs that ended before the casing was warm: their thermometer is held against what it shows by then. */
function shortRuns(runs: TrialReport['runs']): string[] {
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

const STATE = { settled: 'settled', weak: 'weakly', held: 'held by its prior' } as const;

function coefficientTable(coefficients: TrialReport['coefficients']): string {
  const rows = coefficients.map(
    ({ symbol, path, unit, prior, value, low, high, before, after, state, untried }) => [
      `${symbol}  ${path}${unit === '1' ? '' : ` [${unit}]`}`,
      formatNumber(prior),
      formatNumber(value),
      `${formatNumber(low, 3)} – ${formatNumber(high, 3)}`,
      `${formatNumber(100 * before, 2)} %`,
      `${formatNumber(100 * after, 2)} %`,
      untried ? 'from other wheels' : STATE[state],
    ],
  );
  return textTable([
    ['coefficient', 'before', 'fitted', '95 % within', 'spread before', 'after', 'known'],
    ...rows,
  ]);
}

function runTable({ runs }: TrialReport): string {
  const number = (value: number | null): string => (value === null ? '–' : formatNumber(value, 3));
  const rows = runs.map(
    ({ name, percentiles, power_kW, outletTemperature_C, closure, chiSquare, residuals }) => [
      name,
      ...[1, 3].flatMap((k) => [number(percentiles[k]!.measured), number(percentiles[k]!.model)]),
      number(power_kW.measured),
      number(power_kW.model),
      number(outletTemperature_C.measured),
      number(outletTemperature_C.model),
      closure ? `${formatNumber(100 * closure.gap, 2)} %${closure.closes ? '' : ' !'}` : '–',
      chiSquare === null || residuals === 0 ? '–' : `${formatNumber(chiSquare, 3)}/${residuals}`,
    ],
  );
  return textTable([
    ['run', 'x50 [µm]', 'model', 'x95 [µm]', 'model', 'kW', 'model', '°C', 'model', 'mass gap', 'χ²/n'],
    ...rows,
  ]);
}
