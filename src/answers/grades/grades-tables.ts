import { toCase } from '../../scenario/operating-point.ts';
import { formatNumber, formatQuantity, toShown } from '../../scenario/units/display.ts';
import { crossings, stopLimits } from '../../search/next/stop-limits.ts';
import { posteriorOf } from '../../trials/calibration/take-up.ts';
import { expectedReadings } from '../../trials/readings.ts';
import { type AnswerTable, columns, type FigureReference } from '../document.ts';
import type { DotsInput } from '../dots.ts';
import { goalValue, settingsInWords } from '../find/find-words.ts';
import { listed } from '../join-words.ts';
import { nearestOf, standingAt } from '../standing.ts';
import { missesText } from '../verdict-words.ts';
import { requirementWords } from '../words.ts';
import type { GradeFound } from './grade-found.ts';
import type { GradePoint } from './grade-point.ts';
import type { GradesAnswer } from './grades-answer.ts';
import { LOT } from './wheels-for-grades.ts';

const NONE = '–';
const rate = (feed: number) => formatNumber(toShown(feed, 'kg/h'), 3);

/** Grade by grade the settings to run first and what they give. */
export function gradeTable(grades: readonly GradePoint[]): AnswerTable {
  const rows = grades.map(({ name, scenario, outcome, probability: share }) => {
    const { settings } = toCase(scenario);
    const speeds = [settings.wheelSpeed, settings.rotorSpeed].map((speed) =>
      formatNumber(toShown(speed, 'rpm'), 4),
    );
    const set = [name, scenario.settings.wheel, ...speeds, rate(settings.feedRate)];
    const probability = share === undefined ? NONE : formatNumber(100 * share, 2);
    if (outcome.status === 'choked') return [...set, NONE, NONE, probability];
    const { energy, air } = outcome;
    return [
      ...set,
      formatNumber(energy.specific_kWh_per_t as number, 3),
      formatNumber(air.outletTemperature_C as number, 3),
      probability,
    ];
  });
  return {
    columns: columns(
      'grade',
      'wheel',
      'wheel speed, rpm',
      'rotor speed, rpm',
      'feed rate, kg/h',
      'energy, kWh/t',
      'outlet, °C',
      'probability, %',
    ),
    rows,
    notes: ['probability: of meeting the whole spec of the grade, from samples of the coefficients'],
  };
}

/** Grade by grade what limits: at the settings named, and of the goal if the coefficients are as they stand. */
export function limitTable({ grades }: GradesAnswer): AnswerTable {
  const rows = grades.map(({ name, answer }) => {
    const { named, nominal, scenario } = answer;
    const { goal } = scenario;
    const most = nominal.meets && goal ? goalValue(goal, nominal.best.goal) : NONE;
    const by = nominal.meets
      ? listed(nominal.best.limits) || 'nothing within the ranges'
      : 'no settings meet the spec';
    return [name, nearestWords(named.scenario, standingAt(named.scenario, named.point)), most, by];
  });
  return {
    columns: columns(
      'grade',
      'nearest its limit at these settings',
      'best goal, coefficients as they stand',
      'limited there by',
    ),
    rows,
  };
}

function nearestWords(
  ...[scenario, standing]: [GradeFound['answer']['scenario'], ReturnType<typeof standingAt>]
): string {
  if (standing.point.status === 'choked') return 'the mill chokes';
  if (!standing.meets) return `misses ${missesText(scenario, standing)}`;
  const place = nearestOf(standing);
  return place < 0 ? NONE : requirementWords(scenario.spec[place]!);
}

/** What to watch on the run of each grade: readings whose 95 % band reaches beyond their limit. */
export function watchWords(grades: readonly GradePoint[]): string[] {
  return grades.flatMap(({ name, scenario, point }) => {
    if (point.status === 'choked') return [];
    const readings = expectedReadings(scenario, posteriorOf(scenario));
    const limits = stopLimits(scenario);
    const watched = crossings(readings, limits).map(({ reading, limit, high }) => {
      const [what, unit] = reading === 'power' ? ['rotor power', 'kW'] : ['outlet temperature', 'degC'];
      return `${what} may reach ${formatQuantity(high, unit!, 3)} (95 %), its limit is ${formatQuantity(limit, unit!, 3)}`;
    });
    return watched.length > 0 ? [`${name}: watch the readings; ${watched.join('; ')}.`] : [];
  });
}

/** Settings that serve two grades at once. */
export function sharedTable({ shared, scenario }: GradesAnswer): AnswerTable {
  return {
    columns: columns(
      'grades',
      'one setting for both',
      'feed rate, kg/h',
      'less than each alone, kg/h',
      'sets that meet both, %',
    ),
    rows: shared.map(({ names, point, lost, probability }) => [
      names.join(' + '),
      point ? settingsInWords(scenario, point) : { text: 'none within the ranges', fails: true },
      point ? rate(point.scenario.settings.feedRate) : NONE,
      point ? lost.map((loss) => rate(Math.max(0, loss))).join(' and ') : NONE,
      probability === undefined ? NONE : formatNumber(100 * probability, 2),
    ]),
  };
}

/** One wheel, two, …: the feed rate of each grade, and the time for equal masses. */
export function wheelTable({ wheels, grades }: GradesAnswer): AnswerTable {
  return {
    columns: columns('wheels', ...grades.map(({ name }) => `${name}, kg/h`), `time for ${LOT} kg of each, h`),
    rows: [...wheels.single, ...wheels.growing.slice(1)].map(({ wheels: names, points, time, served }) => [
      names.join(', '),
      ...points.map((point) =>
        point ? rate(point.scenario.settings.feedRate) : { text: 'not met', fails: true },
      ),
      served === 0 ? NONE : formatNumber(time / 3600, 3),
    ]),
  };
}

/** The grades against each other. */
export function gradeFigure(grades: readonly GradePoint[]): FigureReference[] {
  const outcomes = grades.flatMap(({ outcome }) => (outcome.status === 'steady' ? [outcome] : []));
  if (outcomes.length < grades.length) return [];
  const probable = grades.every(({ probability }) => probability !== undefined);
  const panel = (name: string, unit: string, values: readonly number[]) => ({
    measure: { name, unit },
    dots: values.map((value) => ({ value })),
    fromZero: true,
  });
  const data: DotsInput = {
    rows: grades.map(({ name }) => name),
    panels: [
      panel(
        'feed rate',
        'kg/h',
        grades.map(({ scenario }) => toShown(scenario.settings.feedRate, 'kg/h')),
      ),
      panel(
        'energy',
        'kWh/t',
        outcomes.map(({ energy }) => energy.specific_kWh_per_t as number),
      ),
      ...(probable
        ? [
            panel(
              'probability of the whole spec',
              '%',
              grades.map(({ probability }) => 100 * probability!),
            ),
          ]
        : []),
    ],
    caption:
      'Each grade at the settings to run first: feed rate, energy, and the probability of meeting its whole spec.',
  };
  return [{ id: 'grades-figure', title: 'The grades against each other', figure: 'dots', data }];
}
