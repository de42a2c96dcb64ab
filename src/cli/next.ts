import { InputError } from '../scenario/errors.ts';
import { loadScenario } from '../scenario/load.ts';
import { toCase } from '../scenario/point.ts';
import type { Drive, Scenario } from '../scenario/scenario.ts';
import { formatNumber, formatQuantity, toShown } from '../scenario/units/display.ts';
import { searchSpace } from '../search/find/space.ts';
import { type Budget, budgetOf, type RunCost } from '../search/next/budget.ts';
import { type Plan, type PlannedRun, planTrials, WORTH_MOVING } from '../search/next/plan.ts';
import { posteriorOf } from '../trials/calibration/take-up.ts';
import type { Posterior } from '../trials/fit/fit.ts';
import { drawsOf, predictPercentiles } from '../trials/fit/predict.ts';
import type { Band } from '../trials/fit/quantile.ts';
import { type Command, EXIT } from './command.ts';
import { refuseOutside, SEED } from './number-option.ts';
import { settable } from './settable.ts';
import { textTable } from './text-table.ts';
import { writeWhole } from './write-file.ts';

const CAUTION = [
  'Screening only. Dust, rotating parts and vents can kill: test your own dust before it is milled; never open a turning mill;',
  'stay within the speeds its maker allows; local codes and licensed practice decide. Missing data is an unknown hazard.',
];
const DRAWS = 60;
const MOST_TRIALS = 5;

/** `next FILE`: the trials that would teach most, as a run sheet. */
export const next: Command = {
  usage: 'next <file>',
  summary: 'the trials that would teach most within the powder and hours left, as a run sheet',
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('trials', { type: 'number', default: 3, describe: `trials wanted, 1 to ${MOST_TRIALS}` })
      .option('hours', { type: 'number', default: 6, describe: 'hours at hand' })
      .option('method', {
        choices: ['laser', 'sieve'] as const,
        default: 'laser',
        describe: 'how the product will be measured',
      })
      .option('minutes', {
        type: 'number',
        default: 4,
        describe: 'minutes of feeding until a sample is taken, sampling included',
      })
      .option('changeover', { type: 'number', default: 15, describe: 'minutes between two runs' })
      .option('wheelchange', {
        type: 'number',
        default: 45,
        describe: 'minutes more where the wheel changes',
      })
      .option('here', {
        type: 'boolean',
        default: false,
        describe: 'ask about the settings of the file, not about the best found',
      })
      .option('out', {
        alias: ['o', 'output'],
        type: 'string',
        describe: 'write the run sheet to this file too',
      })
      .option('seed', { type: 'number', default: 1, describe: 'seed of the search' })
      .option('json', { type: 'boolean', default: false, describe: 'print the result as JSON' })
      .option('set', settable('change a value, e.g. --set powder.have="8 kg" (repeatable)')),
  run: async (options) => {
    const count = Number(options.trials);
    const hours = Number(options.hours);
    refuseOutside(options, {
      trials: { whole: true, least: 1, most: MOST_TRIALS },
      hours: { above: 0, most: 1000 },
      minutes: { above: 0, most: 1000 },
      changeover: { least: 0, most: 1000 },
      wheelchange: { least: 0, most: 1000 },
      seed: SEED,
    });
    const scenario = await loadScenario(String(options.file), { set: options.set as string[] });
    const space = searchSpace(scenario);
    if (typeof space === 'string') throw new InputError([{ place: 'sweep.factors', message: space }]);
    const posterior = posteriorOf(scenario);
    const minutes = (name: string): number => 60 * Number(options[name]);
    const budget = budgetOf(scenario, hours, {
      settle: minutes('minutes'),
      sample: 0,
      changeOver: minutes('changeover'),
      wheelChange: minutes('wheelchange'),
    });
    const method = options.method === 'sieve' ? 'sieve' : 'laser';
    const plan = planTrials(scenario, space, posterior, budget, {
      count,
      method,
      seed: Number(options.seed),
      ...(options.here ? { answerAt: scenario } : {}),
    });
    const rows = plan.runs.map((run) => expectedOf(run, posterior));
    const text = asText(scenario, plan, rows, budget);
    if (typeof options.out === 'string') writeWhole(options.out, text);
    process.stdout.write(options.json ? asJson(scenario, plan, rows) : text);
    return plan.runs.length > 0 || plan.ends === 'settled' ? EXIT.done : EXIT.noAnswer;
  },
};

/** What is to be expected of one run, with its band. */
interface Expected {
  readonly run: PlannedRun;
  readonly power: Band;
  readonly temperature: Band;
  readonly x95: Band;
}

function expectedOf(run: PlannedRun, posterior: Posterior): Expected {
  const draws = drawsOf(posterior, DRAWS, 1);
  const { sizes, power, temperature } = predictPercentiles(run.trial.scenario, posterior, [0.95], draws);
  return { run, power, temperature, x95: sizes[0]! };
}

function band({ low, median, high }: Band, unit: string): string {
  const shown = [low, median, high].map((value) => formatNumber(toShown(value, unit), 3));
  return `${shown[1]} (${shown[0]}–${shown[2]})`;
}

/** Doubt as a text: ±9 %. */
function doubt(error: number): string {
  return error < 1 ? `±${formatNumber(100 * error, 2)} %` : 'more than ±100 %';
}

function asText(scenario: Scenario, plan: Plan, rows: readonly Expected[], budget: Budget): string {
  const lines = [scenario.title, '', ...headline(plan, budget), ''];
  lines.push(`Asked: ${plan.answer.lines.map(({ text }) => text).join('; ')}`);
  lines.push(`at     ${settingsText(plan.answer.scenario)}`, '');
  if (rows.length > 0) lines.push(...sheet(scenario, plan, rows));
  lines.push(...CAUTION, '');
  return lines.join('\n');
}

const ENDS: Readonly<Record<Plan['ends'], string>> = {
  asked: '',
  powder: 'The powder at hand ends the list.',
  time: 'The hours at hand end the list.',
  settled: `Another trial would move the settings by less than ${100 * WORTH_MOVING} %: stop there.`,
  nothing: 'No other settings within the ranges can be run safely by what is known now.',
};

function headline(plan: Plan, budget: Budget): string[] {
  const last = plan.runs.length > 0 ? Math.min(...plan.runs.map(({ after }) => after)) : undefined;
  if (last === undefined) {
    return plan.ends === 'settled'
      ? [
          `No trial is needed: what is not known could move the settings by ${doubt(plan.settingsInDoubt)} at most, and another trial would take less than ${100 * WORTH_MOVING} % of that away.`,
        ]
      : [`No trial can be planned. ${ENDS[plan.ends]}`];
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

function settingsText(scenario: Scenario): string {
  const c = toCase(scenario);
  return `rotor ${formatQuantity(c.settings.rotorSpeed, 'rpm')}, ${scenario.settings.wheel} ${formatQuantity(c.settings.wheelSpeed, 'rpm')}, ${formatQuantity(c.settings.feedRate, 'kg/h')}`;
}

function onPanel(speed: number, drive: Drive | undefined): string {
  const rpm = formatNumber(toShown(speed, 'rpm'));
  return drive ? `${rpm} = ${formatNumber((speed / drive.shaftSpeed) * drive.frequency, 3)} Hz` : rpm;
}

const BLANK = '______';

function sheet(scenario: Scenario, plan: Plan, rows: readonly Expected[]): string[] {
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
  const head = [
    'run',
    'rotor rpm',
    'wheel',
    'wheel rpm',
    'kg/h',
    'kg',
    'min',
    'kW (95 %)',
    'out °C',
    'x95 µm',
  ];
  const table = rows.map((row, i) => line(String(i + 1), row.run.trial.scenario, row.run.cost, row));
  if (plan.repeat) table.push(line('1 again', rows[0]!.run.trial.scenario, plan.repeat, rows[0]!));
  const idle = [
    ...new Set(
      rows.map(({ run }) => formatNumber(toShown(toCase(run.trial.scenario).settings.rotorSpeed, 'rpm'))),
    ),
  ];
  const names = table.map(([name]) => name!);
  return [
    `RUN SHEET   date ${BLANK}  operator ${BLANK}  lot ${BLANK}  air flow ${formatQuantity(scenario.air.flow, 'm^3/h')} read ${BLANK}`,
    '',
    `empty  no feed, warm up, then at rotor ${idle.join(', ')} rpm write: kW ${idle.map(() => BLANK).join(' ')}  amps ${BLANK}  out °C ${BLANK}`,
    textTable([head, ...table]),
    '',
    textTable([
      ['run', 'kW read', 'amps', 'out °C', 'kg fed', 'kg product', 'kg filter', 'minutes', 'size files'],
      ...names.map((name) => [name, ...Array.from({ length: 8 }, () => BLANK)]),
    ]),
    '',
    ...rows.map(({ run }, i) => `run ${i + 1} is to settle ${settlesText(run)}`),
    '',
    'Stop a run when motor or outlet temperature nears its limit, the mill sounds wrong or the air flow falls; write what was seen.',
    `After each run: fit, then next again. Stop the campaign when it says another trial would move the settings by less than ${100 * WORTH_MOVING} %, when the repeat of run 1 is off by more than 3 % at x50, or when the powder is at its reserve.`,
    '',
  ];
}

function settlesText({ settles, before, after }: PlannedRun): string {
  const coefficients = settles.map((one) => `${one.symbol} ${doubt(one.before)} → ${doubt(one.after)}`);
  return `${coefficients.join(', ')}; the answer ${doubt(before)} → ${doubt(after)}`;
}

function asJson(scenario: Scenario, plan: Plan, rows: readonly Expected[]): string {
  const setting = (at: Scenario) => {
    const { settings } = toCase(at);
    return {
      rotorSpeed_rpm: toShown(settings.rotorSpeed, 'rpm'),
      wheel: at.settings.wheel,
      wheelSpeed_rpm: toShown(settings.wheelSpeed, 'rpm'),
      feedRate_kg_per_h: toShown(settings.feedRate, 'kg/h'),
    };
  };
  const bandIn = ({ low, median, high }: Band, unit: string) =>
    [low, median, high].map((value) => toShown(value, unit));
  const cost = ({ feed, duration }: RunCost) => ({ feed_kg: feed, duration_min: toShown(duration, 'min') });
  const body = {
    title: scenario.title,
    answer: {
      lines: plan.answer.lines.map(({ text, value }) => ({ text, value })),
      settings: setting(plan.answer.scenario),
    },
    ends: plan.ends,
    settingsInDoubt: plan.settingsInDoubt,
    powder_kg: plan.powder,
    time_h: toShown(plan.time, 'h'),
    runs: rows.map(({ run, power, temperature, x95 }) => ({
      settings: setting(run.trial.scenario),
      ...cost(run.cost),
      expected: {
        power_kW: bandIn(power, 'kW'),
        outletTemperature_C: bandIn(temperature, 'degC'),
        x95_um: bandIn(x95, 'um'),
      },
      settles: run.settles,
      doubtBefore: run.before,
      doubtAfter: run.after,
    })),
    repeatOfFirst: plan.repeat ? cost(plan.repeat) : null,
  };
  return `${JSON.stringify(body, (_, value) => (Number.isNaN(value) ? null : value), 2)}\n`;
}
