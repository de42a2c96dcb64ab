import { formatNumber } from '../../scenario/units/display.ts';
import type { TrialReport } from '../../trials/report-data.ts';
import { type AnswerTable, columns, type FigureReference } from '../document.ts';
import type { Dot, DotsPanel } from '../dots.ts';
import { label } from '../text.ts';

const STATE = { settled: 'determined', weak: 'weakly', held: 'by its prior only' } as const;

const short = (value: number | null): string => (value === null ? '–' : formatNumber(value, 3));

/** Every coefficient: before, fitted, within what, and how far it is known. */
export function coefficientTable({ coefficients }: TrialReport): AnswerTable {
  return {
    columns: columns(
      'coefficient',
      'before',
      'fitted',
      '95 % within',
      'uncertainty before, %',
      'after, %',
      'determined',
    ),
    rows: coefficients.map(
      ({ symbol, path, unit, prior, value, low, high, before, after, state, untried }) => [
        `${symbol}  ${path}${unit === '1' ? '' : ` [${unit}]`}`,
        formatNumber(prior),
        formatNumber(value),
        `${formatNumber(low, 3)} to ${formatNumber(high, 3)}`,
        formatNumber(100 * before, 2),
        formatNumber(100 * after, 2),
        untried ? 'from other wheels' : STATE[state],
      ],
    ),
  };
}

/** Every run measured against the fitted model. */
export function runTable({ runs }: TrialReport): AnswerTable {
  return {
    columns: columns(
      'run',
      'x50, µm',
      'model',
      'x95, µm',
      'model',
      'power, kW',
      'model',
      'outlet, °C',
      'model',
      'mass gap',
      'χ²/n',
    ),
    rows: runs.map(
      ({ name, percentiles, power_kW, outletTemperature_C, closure, chiSquare, residuals, fits }) => [
        name,
        ...[1, 3].flatMap((k) => [short(percentiles[k]!.measured), short(percentiles[k]!.model)]),
        short(power_kW.measured),
        short(power_kW.model),
        short(outletTemperature_C.measured),
        short(outletTemperature_C.model),
        closure ? { text: `${formatNumber(100 * closure.gap, 2)} %`, fails: !closure.closes } : '–',
        chiSquare === null || residuals === 0
          ? '–'
          : { text: `${formatNumber(chiSquare, 3)}/${residuals}`, fails: fits === false },
      ],
    ),
  };
}

/** `χ_c medium leaning`: the symbol, and whose it is where a mill has several wheels. */
function coefficientName({ symbol, path }: TrialReport['coefficients'][number]): string {
  const wheel = /^machine\.wheels\.([^.]+)\./.exec(path)?.[1];
  return wheel === undefined ? symbol : `${symbol} ${label(wheel)}`;
}

/** Each coefficient fitted with its 95 % range, over what was assumed before. */
export function coefficientFigure({ coefficients }: TrialReport): FigureReference {
  return {
    id: 'coefficients-figure',
    title: 'Coefficients, fitted over assumed',
    figure: 'dots',
    data: {
      rows: coefficients.map(coefficientName),
      panels: [
        {
          measure: { name: 'fitted over assumed', unit: '' },
          dots: coefficients.map(({ value, low, high, prior }) => ({
            value: value / prior,
            low: low / prior,
            high: high / prior,
          })),
          limit: { at: 1, words: 'as assumed' },
          scale: 'log',
        },
      ],
      caption:
        'Each coefficient over its value before the trials, with its 95 % range: a short range is determined by the trials, a long one is not.',
    },
  };
}

/** Every run: measured, open, beside the fitted model, filled. */
export function runFigure({ runs }: TrialReport): FigureReference {
  const dot = (value: number | null): Dot | undefined => (value === null ? undefined : { value });
  const panel = (name: string, unit: string, of: (run: TrialReport['runs'][number]) => Pair): DotsPanel => ({
    measure: { name, unit },
    dots: runs.map((run) => dot(of(run).model)),
    others: runs.map((run) => dot(of(run).measured)),
  });
  return {
    id: 'runs-figure',
    title: 'Every run, model and measured',
    figure: 'dots',
    data: {
      rows: runs.map(({ name }) => name),
      panels: [
        panel('x50', 'µm', ({ percentiles }) => percentiles[1]!),
        panel('x95', 'µm', ({ percentiles }) => percentiles[3]!),
        panel('power', 'kW', ({ power_kW }) => power_kW),
      ],
      caption: 'Filled: the fitted model. Open: measured. The closer the two of a run, the better the fit.',
    },
  };
}

interface Pair {
  readonly measured: number | null;
  readonly model: number | null;
}
