import { SAFETY_CAUTION } from '../../plant/safety/checklist.ts';
import { toCase } from '../../scenario/operating-point.ts';
import type { Drive, Scenario } from '../../scenario/scenario.ts';
import { formatNumber, formatQuantity, toShown } from '../../scenario/units/display.ts';
import type { Budget, RunCost } from '../../search/next/budget.ts';
import type { Plan, PlannedRun } from '../../search/next/plan.ts';
import { crossings, type StopLimits, stopLimits } from '../../search/next/stop-limits.ts';
import { WORTH_MOVING } from '../../search/next/value-of-trial.ts';
import type { NotRun } from '../../search/next/wanted-trials.ts';
import { calibrationStanding } from '../../trials/calibration/calibration-standing.ts';
import type { Band } from '../../trials/fit/quantile.ts';
import type { Readings } from '../../trials/readings.ts';
import type { Table } from '../table.ts';
import { goalWords, pathInWords, requirementWords } from '../words.ts';
import { BLANK, type RunPlan, type RunSheet } from './run-sheet-content.ts';

/** One run with the bands its readings are to be held against. */
export interface Expected extends Readings {
  readonly run: PlannedRun;
}

/** What is read on a run and written down by hand. */
export const READ: readonly string[] = [
  'run',
  'kW read',
  'amps',
  'out °C',
  'kg fed',
  'kg product',
  'kg filter',
  'minutes',
  'size files',
];

export const CAUTIONS = [
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
    headline: [
      ...headline(plan, budget),
      ...missedLine(plan),
      ...plan.notRun.map(notRunWords),
      ...calibrationStanding(scenario).general,
    ],
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
  return goal?.text === text ? goalWords(goal) : text;
}

/** Middle and 95 % band of a reading. */
export function band({ low, median, high }: Band, unit: string): string {
  const shown = [low, median, high].map((value) => formatNumber(toShown(value, unit), 3));
  return `${shown[1]} (${shown[0]}–${shown[2]})`;
}

/** Least share that is said of a raise. */
const LEAST_SAID = 0.001;

/** Uncertainty as a text: 9 %. */
function uncertainty(error: number): string {
  return error < 1 ? `${formatNumber(100 * error, 2)} %` : 'more than 100 %';
}

const ENDS: Readonly<Record<Plan['ends'], string>> = {
  asked: '',
  powder: 'The list ends because the powder is used up.',
  time: 'The list ends because the time is used up.',
  settled: `Another trial would move the settings by less than ${100 * WORTH_MOVING} %: stop there.`,
  nothing: 'By present knowledge no other settings within the ranges can be run safely.',
};

/** Settings that miss the spec are named as such, however sure that is: other settings are wanted then, not a trial. */
function missedLine({ answer: { missed } }: Plan): string[] {
  if (missed.length === 0) return [];
  return [
    `By present estimates these settings miss the spec (${missed.join('; ')}). A trial cannot fix that; run find for others.`,
  ];
}

const NOT_RUN: Readonly<Record<NotRun['reason'], string>> = {
  limit: 'by present estimates they choke the mill or cross a limit',
  powder: 'the powder left is not enough',
  time: 'the hours left are not enough',
};

/** Settings that were to be run and are not in the plan. */
function notRunWords({ why, reason, scenario }: NotRun): string {
  const what =
    why === 'asked' ? 'The settings in question' : `The settings included (${settingsText(scenario)})`;
  return `${what} are not in the plan: ${NOT_RUN[reason]}.`;
}

function headline(plan: Plan, budget: Budget): string[] {
  const last = plan.runs.length > 0 ? Math.min(...plan.runs.map(({ after }) => after)) : undefined;
  if (last === undefined) {
    return plan.ends === 'settled'
      ? [
          `Stop: no trial is needed. No trial can raise the safe rate by more than ${uncertainty(Math.max(LEAST_SAID, plan.bestRaise ?? WORTH_MOVING))}; everything not yet determined could move the settings by ${uncertainty(plan.settingsInDoubt)}.`,
        ]
      : [`No trial can be planned. ${ENDS[plan.ends]}${shortOf(plan, budget)}`];
  }
  const first = Math.max(...plan.runs.map(({ before }) => before));
  const powder = Number.isFinite(budget.powder)
    ? `${formatQuantity(plan.powder, 'kg', 3)} of ${formatQuantity(budget.powder, 'kg', 3)}`
    : formatQuantity(plan.powder, 'kg', 3);
  return [
    `Run ${plan.runs.length} trial${plan.runs.length > 1 ? 's' : ''}: expected to reduce the uncertainty of the answer from ${uncertainty(first)} to ${uncertainty(last)}.`,
    `${plan.runs.length > 1 ? 'They take' : 'It takes'} ${powder} and ${formatQuantity(plan.time, 'h', 2)}, the empty run first${plan.repeat ? ' and one repeat last' : '; there is no room for a repeat, so drift will not show'}. ${ENDS[plan.ends]}`.trim(),
  ];
}

/** What the cheapest run would take of what there is too little of. */
function shortOf({ ends, least }: Plan, budget: Budget): string {
  if (ends === 'powder' && least)
    return ` ${formatQuantity(budget.powder, 'kg', 3)} of powder is available above the reserve; the smallest run here takes ${formatQuantity(least.powder, 'kg', 3)} (${formatQuantity(least.feed, 'kg', 3)} fed, ${formatQuantity(budget.lossPerRun, 'kg', 3)} lost). Shorten the runs (--minutes) or reduce the reserve.`;
  if (ends === 'time' && least)
    return ` ${formatQuantity(budget.time, 'h', 3)} are available; warming up takes ${formatQuantity(budget.empty, 'min', 3)}, and the smallest run ${formatQuantity(least.duration, 'min', 3)}.`;
  return '';
}

function settingsText(scenario: Scenario): string {
  const c = toCase(scenario);
  return `rotor ${formatQuantity(c.settings.rotorSpeed, 'rpm')}, ${scenario.settings.wheel} ${formatQuantity(c.settings.wheelSpeed, 'rpm')}, ${formatQuantity(c.settings.feedRate, 'kg/h')}`;
}

/** A shaft speed [rpm] with the frequency on its drive, where it has one. */
export function onPanel(speed: number, drive: Drive | undefined): string {
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
      heads: READ,
      rows: settings.rows.map(([name]) => [name!, ...Array.from({ length: 8 }, () => BLANK)]),
    },
    settles: asChosen(rows).flatMap((row) =>
      runWords(row, `run ${rows.indexOf(row) + 1}`, plan.answer.scenario),
    ),
    stopRules: [
      `Stop a run ${stopOfRuns(rows.map(({ run }) => stopLimits(run.trial.scenario)))}, or the mill sounds wrong; write what was seen.`,
      `After each run: fit, then next again. Stop the campaign when it says that no trial can raise the safe rate by more than ${100 * WORTH_MOVING} %, when the repeat of run 1 is off by more than 3 % at x50, or when the powder is at its reserve.`,
    ],
  };
}

/** The runs in the order they were chosen, so that what one leaves uncertain is where the next begins. */
function asChosen(rows: readonly Expected[]): Expected[] {
  return [...rows].sort((a, b) => b.run.before - a.run.before);
}

/** What a run is for, and what to watch where its 95 % band crosses a limit. */
function runWords(row: Expected, name: string, answer: Scenario): string[] {
  const { run } = row;
  const share = run.trial.scenario.settings.feedRate / answer.settings.feedRate;
  const less = share < 0.995 ? `, with ${formatNumber(100 * share, 2)} % of their feed rate` : '';
  const at =
    run.why === 'asked'
      ? ` is at the settings in question${less};`
      : run.why === 'included'
        ? ' was included by name;'
        : '';
  const limits = stopLimits(run.trial.scenario);
  const crossed = crossings(row, limits).map(({ reading, limit, high }) => {
    const [what, unit] = reading === 'power' ? ['rotor power', 'kW'] : ['outlet temperature', 'degC'];
    return `${what} may reach ${formatQuantity(high, unit!, 3)} (95 %), its limit is ${formatQuantity(limit, unit!, 3)}`;
  });
  const watched =
    crossed.length > 0
      ? [
          `${name}: ${crossed.join('; ')}: raise the feed rate in steps and watch ${crossed.length > 1 ? 'both' : 'it'}.`,
        ]
      : [];
  return [`${name}${at}${at === '' ? '' : ' it'} is to determine ${determinesText(run)}`, ...watched];
}

/** The limits of all runs as one clause: a limit that differs is given run by run. */
function stopOfRuns(limits: readonly StopLimits[]): string {
  const each = (unit: string, of: (one: StopLimits) => number): string => {
    const texts = limits.map((one) => formatQuantity(of(one), unit, 3));
    if (new Set(texts).size === 1) return texts[0]!;
    return texts.map((text, i) => `${text} in run ${i + 1}`).join(', ');
  };
  const warm = limits.every(({ temperature }) => temperature !== undefined);
  const upper = [
    `a rotor power of ${each('kW', ({ power }) => power)}`,
    ...(warm ? [`${each('degC', ({ temperature }) => temperature!)} at the outlet`] : []),
  ];
  return `when it reaches ${upper.join(' or ')}, when the air flow falls below ${each('m^3/h', ({ airFlow }) => airFlow)}`;
}

/** Numeric limits as a clause: `at 13.5 kW, 50 °C, or below 1350 m³/h`. */
export function stopWords({ power, temperature, airFlow }: StopLimits): string {
  const upper = [
    formatQuantity(power, 'kW', 3),
    ...(temperature === undefined ? [] : [`${formatQuantity(temperature, 'degC', 3)} at the outlet`]),
  ];
  return `when it reaches ${upper.join(' or ')}, when the air flow falls below ${formatQuantity(airFlow, 'm^3/h', 3)}`;
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
      formatNumber(cost.powder, 3),
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
      'kg fed',
      'kg with losses',
      'min',
      'kW (95 %)',
      'out °C at the end (95 %)',
      'x95 µm (95 %)',
    ],
    rows: lines,
  };
}

function determinesText({ settles, before, after }: PlannedRun): string {
  const coefficients = settles.map(
    (one) => `${pathInWords(one.path)} ${one.symbol} ${uncertainty(one.before)} → ${uncertainty(one.after)}`,
  );
  return `${coefficients.join(', ')}; the answer ${uncertainty(before)} → ${uncertainty(after)}`;
}
