import type { TimeSeries } from '../../model/time/run-in-time.ts';
import { SAFETY_CAUTION } from '../../plant/safety/checklist.ts';
import { toCase } from '../../scenario/operating-point.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber as n, toShown } from '../../scenario/units/display.ts';
import type { CourseInput } from '../course.ts';
import { type AnswerDocument, type AnswerTable, columns } from '../document.ts';
import { openingOf } from '../verdict-words.ts';
import { timeKeys } from './time-keys.ts';
import { type TimeResult, timeOf } from './time-run.ts';
import { timeSentences } from './time-words.ts';

/** Most rows of the table. */
const ROWS = 24;
/** Values of the table below this are shown as 0. */
const LEAST_SHOWN = 1e-4;

/**
 * The `time:` block of a scenario run: when mill and sample have settled, how the mill warms up, how the feeder shows.
 *
 * @param quiet whether the feed is held exactly
 */
export function timeDocument(scenario: Scenario, quiet: boolean): AnswerDocument {
  const result = timeOf(scenario, quiet);
  return {
    command: 'time',
    title: scenario.title,
    job: scenario.job,
    found: !result.choked,
    opening: openingOf(scenario),
    answer: timeSentences(scenario, result),
    sections: [
      {
        id: 'course',
        heading: 'Against time',
        figures: [
          {
            id: 'warm-up',
            title: 'Feed, product and warm-up',
            figure: 'course',
            data: courseOf(scenario, result),
          },
        ],
        tables: [seriesTable(result.series)],
      },
    ],
    notes: ['Lags behind the mill are assumed.'],
    cautions: [SAFETY_CAUTION],
    keys: timeKeys(result),
  };
}

/** Feed, product and outlet temperature over the same minutes; the temperature with its steady value. */
function courseOf(scenario: Scenario, { series, events, trips, settled }: TimeResult): CourseInput {
  const minutes = series.time.map((t) => t / 60);
  const shown = (values: readonly number[], unit: string) => values.map((value) => toShown(value, unit));
  const steady = solvePoint(toCase(scenario), { choke: false });
  const limit =
    steady.status === 'steady'
      ? {
          limit: {
            at: toShown(steady.state.conditions.temperature, 'degC'),
            words: `steady at the file's feed rate: ${n(toShown(steady.state.conditions.temperature, 'degC'), 3)} °C`,
          },
        }
      : {};
  const [start] = settled;
  const sample =
    start && Number.isFinite(start.sample) ? [{ at: start.sample / 60, words: 'sample from here on' }] : [];
  return {
    x: { name: 'time from start', unit: 'min', values: minutes },
    panels: [
      {
        measure: { name: 'feed rate', unit: 'kg/h' },
        lines: [{ name: 'feed', y: shown(series.feedRate, 'kg/h') }],
        fromZero: true,
      },
      {
        measure: { name: 'x95', unit: 'µm' },
        lines: [
          { name: 'at the wheel', y: shown(series.x95, 'um') },
          { name: 'in a sample', y: shown(series.sampleX95, 'um') },
        ],
      },
      {
        measure: { name: 'outlet temperature', unit: '°C' },
        lines: [{ name: 'air', y: shown(series.temperature, 'degC') }],
        ...limit,
      },
    ],
    events: [
      ...sample,
      ...events.map(({ at, rate }) => ({
        at: at / 60,
        words: rate === 0 ? 'feed stops' : `feed ${n(toShown(rate, 'kg/h'), 3)} kg/h`,
      })),
      ...trips.map(({ at, trip }) => ({ at: at / 60, words: `${trip} trips` })),
    ],
    caption:
      'The product reaches steady state within seconds at the wheel and within minutes in a sample; the outlet air shows most of its rise at once, and the rest as the casing warms up.',
  };
}

function seriesTable(series: TimeSeries): AnswerTable {
  const every = Math.max(1, Math.ceil(series.time.length / ROWS));
  const shown = (value: number) =>
    Number.isFinite(value) ? n(Math.abs(value) < LEAST_SHOWN ? 0 : value, 3) : '–';
  const row = (t: number, i: number): string[] => [
    shown(t / 60),
    shown(toShown(series.feedRate[i]!, 'kg/h')),
    shown(toShown(series.x50[i]!, 'um')),
    shown(toShown(series.x95[i]!, 'um')),
    shown(toShown(series.sampleX95[i]!, 'um')),
    shown(series.holdup[i]!),
    shown(toShown(series.rotorPower[i]!, 'kW')),
    shown(toShown(series.temperature[i]!, 'degC')),
  ];
  return {
    columns: columns(
      'time, min',
      'feed, kg/h',
      'x50, µm',
      'x95, µm',
      'sample x95, µm',
      'hold-up, kg',
      'rotor, kW',
      'outlet, °C',
    ),
    rows: series.time.flatMap((t, i) => (i % every === 0 || i === series.time.length - 1 ? [row(t, i)] : [])),
  };
}
