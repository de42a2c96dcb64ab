import type { Method } from '../../scenario/measurement/measured-sample.ts';
import { toCase } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { gradeNames } from '../../scenario/scenario-of-grade.ts';
import { formatNumber, formatQuantity, toShown } from '../../scenario/units/display.ts';
import type { Budget } from '../../search/next/budget.ts';
import { stopLimits } from '../../search/next/stop-limits.ts';
import { weighGrades } from '../../search/next/weigh-grades.ts';
import { posteriorOf } from '../../trials/calibration/take-up.ts';
import type { PlannedLine } from '../../trials/log/empty-log.ts';
import { expectedReadings, type Readings } from '../../trials/readings.ts';
import { listed } from '../join-words.ts';
import { band, CAUTIONS, onPanel, READ, stopWords } from '../next/run-sheet.ts';
import { BLANK, type RunPlan, type RunSheet } from '../next/run-sheet-content.ts';
import { requirementWords } from '../words.ts';
import { gradesFound, orderOf } from './grades-answer.ts';
import { orderKeys, orderSentences } from './order-words.ts';
import { MOST_ORDERED, type PlacedRun } from './run-order.ts';
import { tellsMost, toldKeys, toldOfOthers } from './told-words.ts';

/** The sheet of a visit, the lines of its log, and its keys of `--json`. */
export interface GradeSheet {
  readonly sheet: RunSheet;
  readonly lines: readonly PlannedLine[];
  readonly keys: Readonly<Record<string, unknown>>;
  /** Whether the visit makes every grade within the powder and the hours there are. */
  readonly found: boolean;
}

/** A run with the readings foretold for it. */
interface Row {
  readonly run: PlacedRun;
  readonly readings: Readings;
}

/** One run a grade, in the order with the fewest wheel changes and the least powder thrown away. */
export function gradeSheet(
  scenario: Scenario,
  budget: Budget,
  seed: number,
  method: Method = 'laser',
): GradeSheet {
  const head = {
    title: scenario.title,
    asked: 'the spec of each grade',
    at: 'the settings of each run',
    cautions: CAUTIONS,
  };
  const tooMany = gradeNames(scenario).length > MOST_ORDERED;
  const grades = tooMany ? [] : gradesFound(scenario, seed, undefined);
  const order = orderOf(grades, budget);
  if (!order) {
    const headline = [`Orders of more than ${MOST_ORDERED} grades are not computed; name one with --grade.`];
    return { sheet: { ...head, headline }, lines: [], keys: { order: null }, found: false };
  }
  const posterior = posteriorOf(scenario);
  const rows = order.runs.map(
    (run): Row => ({ run, readings: expectedReadings(run.scenario, posterior, 1, run.cost.duration) }),
  );
  const told = weighGrades(order.runs, posterior, method);
  const names = order.runs.map(({ name }) => name);
  const missed = grades.filter(({ found }) => !found).map(({ name }) => name);
  const missedLine =
    missed.length > 0
      ? [
          `By present estimates no settings meet ${listed(missed)}: run find to see which requirement to relax.`,
        ]
      : [];
  return {
    sheet: {
      ...head,
      headline: [...orderSentences(order, budget), ...tellsMost(told), ...missedLine],
      plan: planOf(scenario, rows, (run) => toldOfOthers(names, told, run)),
    },
    lines: rows.map(({ run, readings }) => ({ name: run.name, scenario: run.scenario, readings })),
    keys: { order: orderKeys(order), uncertainty: toldKeys(names, told) },
    found: missed.length === 0 && order.powder <= budget.powder && order.time <= budget.time,
  };
}

function planOf(
  scenario: Scenario,
  rows: readonly Row[],
  toldBy: (run: string) => string | undefined,
): RunPlan {
  const { drives } = scenario.machine;
  const rotor = rows.map(({ run }) => toCase(run.scenario).settings.rotorSpeed);
  return {
    boxes: ['date', 'operator', 'lot'],
    airFlow: formatQuantity(scenario.air.flow, 'm^3/h'),
    emptyAt: [...new Set(rotor.map((speed) => formatNumber(toShown(speed, 'rpm'))))],
    settings: {
      heads: [
        'run',
        'grade',
        'rotor rpm',
        'wheel',
        'wheel rpm',
        'kg/h',
        'throw away kg',
        'kg fed',
        'min',
        'kW (95 %)',
        'out °C at the end (95 %)',
        'x95 µm (95 %)',
      ],
      rows: rows.map(({ run, readings }, k) => {
        const { settings } = toCase(run.scenario);
        return [
          `${k + 1}`,
          run.name,
          onPanel(settings.rotorSpeed, drives.rotor),
          run.scenario.settings.wheel,
          onPanel(settings.wheelSpeed, drives.wheel),
          formatNumber(toShown(settings.feedRate, 'kg/h')),
          thrownText(run, k),
          formatNumber(run.cost.feed, 3),
          formatNumber(toShown(run.cost.duration, 'min'), 3),
          band(readings.power, 'kW'),
          band(readings.temperature, 'degC'),
          band(readings.x95, 'um'),
        ];
      }),
    },
    readings: {
      heads: READ,
      rows: rows.map((_, k) => [`${k + 1}`, ...Array.from({ length: READ.length - 1 }, () => BLANK)]),
    },
    settles: rows.map(({ run }, k) => {
      const makes = `Run ${k + 1} makes ${run.name}: ${run.scenario.spec.map(requirementWords).join('; ')}.`;
      return [makes, toldBy(run.name)].filter((each) => each !== undefined).join(' ');
    }),
    stopRules: [
      ...rows.map(
        ({ run }, k) =>
          `Stop run ${k + 1} ${stopWords(stopLimits(run.scenario))}, or the mill sounds wrong; write what was seen.`,
      ),
      'Take the sample after what is thrown away has gone, and keep that powder apart.',
    ],
  };
}

function thrownText({ change }: PlacedRun, place: number): string {
  if (place === 0) return '–';
  return change ? formatNumber(change.thrownAway, 3) : 'not known';
}
