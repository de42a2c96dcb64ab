import type { Table } from '../answers/table.ts';
import { nameInWords, pathInWords, requirementWords } from '../answers/words.ts';
import { SAFETY_CAUTION } from '../plant/safety/checklist.ts';
import { toCase } from '../scenario/operating-point.ts';
import type { Drive, Scenario } from '../scenario/scenario.ts';
import { formatNumber, formatQuantity, toShown } from '../scenario/units/display.ts';
import type { Budget, RunCost } from '../search/next/budget.ts';
import type { Plan, PlannedRun } from '../search/next/plan.ts';
import { WORTH_MOVING } from '../search/next/value-of-trial.ts';
import type { Band } from '../trials/fit/quantile.ts';
import type { Readings } from '../trials/readings.ts';
import { BLANK, type RunPlan, type RunSheet } from '../viz/run-sheet/sheet.ts';

/** One run with the bands its readings are to be held against. */
export interface Expected extends Readings {
  readonly run: PlannedRun;
}

const CAUTIONS = [
  SAFETY_CAUTION,
  'Test the dust before it is milled; never open a turning mill; stay within the speeds its maker allows.',
];

/** The run sheet of a plan: order, panel settings, what to expect, boxes for what is read, and when to stop. */
export function runSheet(
  scenario: Scenario,
  plan: Plan,
  rows: readonly Expected[],
  budget: Budget,
): RunSheet {
  const sheet = {
    title: scenario.title,
    headline: [...headline(plan, budget), ...missedLine(plan)],
    asked: plan.answer.lines.map(({ text }) => askedWords(scenario, text)).join('; '),
    at: settingsText(plan.answer.scenario),
    cautions: CAUTIONS,
  };
  return rows.length > 0 ? { ...sheet, plan: runPlan(scenario, plan, rows) } : sheet;
}

/** A line of the spec, or the goal, in words. */
function askedWords({ spec, goal }: Scenario, text: string): string {
  const line = spec.find((each) => each.text === text);
  if (line) return requirementWords(line);
  const wish = goal?.text === text && goal.expression.kind === 'quantity' ? goal.expression : undefined;
  return wish && wish.argument === undefined ? `${goal!.sense} ${nameInWords(wish.name)}` : text;
}

function band({ low, median, high }: Band, unit: string): string {
  const shown = [low, median, high].map((value) => formatNumber(toShown(value, unit), 3));
  return `${shown[1]} (${shown[0]}–${shown[2]})`;
}

/** Doubt as a text: ±9 %. */
function doubt(error: number): string {
  return error < 1 ? `±${formatNumber(100 * error, 2)} %` : 'more than ±100 %';
}

const ENDS: Readonly<Record<Plan['ends'], string>> = {
  asked: '',
  powder: 'The powder at hand ends the list.',
  time: 'The hours at hand end the list.',
  settled: `Another trial would move the settings by less than ${100 * WORTH_MOVING} %: stop there.`,
  nothing: 'No other settings within the ranges can be run safely by what is known now.',
};

/** Settings that miss the spec say so, however sure that is: then it is not a trial that is wanted but other settings. */
function missedLine({ answer: { missed } }: Plan): string[] {
  if (missed.length === 0) return [];
  return [
    `By the best that is known the settings asked about miss the spec: ${missed.join('; ')}. No trial mends that; find names others.`,
  ];
}

function headline(plan: Plan, budget: Budget): string[] {
  const last = plan.runs.length > 0 ? Math.min(...plan.runs.map(({ after }) => after)) : undefined;
  if (last === undefined) {
    return plan.ends === 'settled'
      ? [
          `Stop: no trial is needed. Another one would move the settings by less than ${100 * WORTH_MOVING} %; all that is still not known could move them by ${doubt(plan.settingsInDoubt)}.`,
        ]
      : [`No trial can be planned. ${ENDS[plan.ends]}${shortOf(plan, budget)}`];
  }
  const first = Math.max(...plan.runs.map(({ before }) => before));
  const powder = Number.isFinite(budget.powder)
    ? `${formatQuantity(plan.powder, 'kg', 3)} of ${formatQuantity(budget.powder, 'kg', 3)}`
    : formatQuantity(plan.powder, 'kg', 3);
  return [
    `Run ${plan.runs.length} trial${plan.runs.length > 1 ? 's' : ''}: expected to bring the doubt of the answer from ${doubt(first)} to ${doubt(last)}.`,
    `They take ${powder} and ${formatQuantity(plan.time, 'h', 2)}, the empty run first${plan.repeat ? ' and one repeat last' : '; there is no room for a repeat, so drift will not show'}. ${ENDS[plan.ends]}`.trim(),
  ];
}

/** What the cheapest run would take of what there is too little of. */
function shortOf({ ends, least }: Plan, budget: Budget): string {
  if (ends === 'powder' && least)
    return ` ${formatQuantity(budget.powder, 'kg', 3)} may be spent above the reserve; the smallest run here takes ${formatQuantity(least.powder, 'kg', 3)} (${formatQuantity(least.feed, 'kg', 3)} fed, ${formatQuantity(budget.lossPerRun, 'kg', 3)} lost). Shorter runs (--minutes) or a smaller reserve would make room.`;
  if (ends === 'time' && least)
    return ` ${formatQuantity(budget.time, 'h', 3)} are there; warming up takes ${formatQuantity(budget.empty, 'min', 3)}, and the smallest run ${formatQuantity(least.duration, 'min', 3)}.`;
  return '';
}

function settingsText(scenario: Scenario): string {
  const c = toCase(scenario);
  return `rotor ${formatQuantity(c.settings.rotorSpeed, 'rpm')}, ${scenario.settings.wheel} ${formatQuantity(c.settings.wheelSpeed, 'rpm')}, ${formatQuantity(c.settings.feedRate, 'kg/h')}`;
}

function onPanel(speed: number, drive: Drive | undefined): string {
  const rpm = formatNumber(toShown(speed, 'rpm'));
  return drive ? `${rpm} = ${formatNumber((speed / drive.shaftSpeed) * drive.frequency, 3)} Hz` : rpm;
}

function runPlan(scenario: Scenario, plan: Plan, rows: readonly Expected[]): RunPlan {
  const settings = settingsTable(scenario, plan, rows);
  const speeds = rows.map(({ run }) =>
    formatNumber(toShown(toCase(run.trial.scenario).settings.rotorSpeed, 'rpm')),
  );
  return {
    boxes: ['date', 'operator', 'lot'],
    airFlow: formatQuantity(scenario.air.flow, 'm^3/h'),
    emptyAt: [...new Set(speeds)],
    settings,
    readings: {
      heads: [
        'run',
        'kW read',
        'amps',
        'out °C',
        'kg fed',
        'kg product',
        'kg filter',
        'minutes',
        'size files',
      ],
      rows: settings.rows.map(([name]) => [name!, ...Array.from({ length: 8 }, () => BLANK)]),
    },
    settles: rows.map(({ run }, i) => `run ${i + 1} is to settle ${settlesText(run)}`),
    stopRules: [
      'Stop a run when motor or outlet temperature nears its limit, the mill sounds wrong or the air flow falls; write what was seen.',
      `After each run: fit, then next again. Stop the campaign when it says another trial would move the settings by less than ${100 * WORTH_MOVING} %, when the repeat of run 1 is off by more than 3 % at x50, or when the powder is at its reserve.`,
    ],
  };
}

/** The runs in their order, the repeat of the first last, each with what to set and what to expect. */
function settingsTable(scenario: Scenario, plan: Plan, rows: readonly Expected[]): Table {
  const { drives } = scenario.machine;
  const line = (name: string, at: Scenario, cost: RunCost, expected: Expected): string[] => {
    const { settings } = toCase(at);
    return [
      name,
      onPanel(settings.rotorSpeed, drives.rotor),
      at.settings.wheel,
      onPanel(settings.wheelSpeed, drives.wheel),
      formatNumber(toShown(settings.feedRate, 'kg/h')),
      formatNumber(cost.feed, 3),
      formatNumber(toShown(cost.duration, 'min'), 3),
      band(expected.power, 'kW'),
      band(expected.temperature, 'degC'),
      band(expected.x95, 'um'),
    ];
  };
  const lines = rows.map((row, i) => line(String(i + 1), row.run.trial.scenario, row.run.cost, row));
  if (plan.repeat) lines.push(line('1 again', rows[0]!.run.trial.scenario, plan.repeat, rows[0]!));
  return {
    heads: [
      'run',
      'rotor rpm',
      'wheel',
      'wheel rpm',
      'kg/h',
      'kg',
      'min',
      'kW (95 %)',
      'out °C at the end (95 %)',
      'x95 µm (95 %)',
    ],
    rows: lines,
  };
}

function settlesText({ settles, before, after }: PlannedRun): string {
  const coefficients = settles.map(
    (one) => `${pathInWords(one.path)} ${one.symbol} ${doubt(one.before)} → ${doubt(one.after)}`,
  );
  return `${coefficients.join(', ')}; the answer ${doubt(before)} → ${doubt(after)}`;
}
