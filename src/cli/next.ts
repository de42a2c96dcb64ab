import { InputError } from '../scenario/errors.ts';
import { loadScenario } from '../scenario/load.ts';
import { toCase } from '../scenario/point.ts';
import type { Scenario } from '../scenario/scenario.ts';
import {
  formatNumber,
  formatQuantity,
  labelOf,
  toShown,
  toShownDifference,
} from '../scenario/units/display.ts';
import { findSettings } from '../search/find/find.ts';
import { searchSpace } from '../search/find/space.ts';
import { type Budget, type Plan, type PlannedRun, planTrials } from '../search/next/next.ts';
import { type Question, questionsAt } from '../search/next/question.ts';
import { posteriorOf } from '../trials/calibration/take-up.ts';
import { type Command, EXIT } from './command.ts';
import { textTable } from './text-table.ts';
import { writeWhole } from './write-file.ts';

const MOST_RUNS = 5;
const CAUTION =
  'Screening only. Dust, rotating parts and vents can kill: test your own dust; local codes and licensed practice decide. Missing data is an unknown hazard.';

/** `next FILE`: the trials that would teach most. */
export const next: Command = {
  usage: 'next <file>',
  summary: 'the trials that would teach most within the powder and hours left, as a run sheet',
  options: (argv) =>
    argv
      .positional('file', {
        type: 'string',
        describe: 'scenario, with powder: and a calibration if there is one',
        demandOption: true,
      })
      .option('runs', { type: 'number', default: 3, describe: 'runs at most, 1 to 5' })
      .option('hours', { type: 'number', default: 4, describe: 'hours left on the mill' })
      .option('minutes', {
        type: 'number',
        default: 4,
        describe: 'minutes of feeding until the sample is taken',
      })
      .option('changeover', {
        type: 'number',
        default: 25,
        describe: 'minutes of cleaning and setting up for a run',
      })
      .option('here', {
        type: 'boolean',
        default: false,
        describe: 'ask about the settings of the file, not about the best found',
      })
      .option('out', { alias: 'o', type: 'string', describe: 'write the run sheet to this file too' })
      .option('set', {
        type: 'string',
        array: true,
        nargs: 1,
        default: [] as string[],
        describe: 'change a value (repeatable)',
      })
      .option('json', { type: 'boolean', default: false, describe: 'print the result as JSON' }),
  run: async (options) => {
    const scenario = await loadScenario(String(options.file), { set: options.set as string[] });
    const space = searchSpace(scenario);
    if (typeof space === 'string') throw new InputError([{ place: 'sweep.factors', message: space }]);
    const budget = budgetOf(scenario, options);
    const posterior = posteriorOf(scenario);
    const asked = options.here || (scenario.spec.length === 0 && !scenario.goal);
    const target = asked ? scenario : findSettings(scenario, space).best.scenario;
    const questions = questionsAt(target, posterior);
    if (questions.length === 0) {
      process.stderr.write(
        'the mill chokes at the settings asked about, so there is no answer to sharpen: change settings or spec\n',
      );
      return EXIT.noAnswer;
    }
    const plan = planTrials(scenario, space, posterior, questions, budget);
    const sheet = asText(scenario, target, plan, budget);
    if (options.out !== undefined) writeWhole(String(options.out), sheet);
    process.stdout.write(options.json ? asJson(scenario, target, plan) : sheet);
    return plan.runs.length > 0 ? EXIT.done : EXIT.noAnswer;
  },
};

function budgetOf({ powder }: Scenario, options: Readonly<Record<string, unknown>>): Budget {
  const faults = ['runs', 'hours', 'minutes', 'changeover']
    .filter((name) => !(Number(options[name]) > 0))
    .map((name) => ({ place: `--${name}`, message: `must be a number > 0, is ${String(options[name])}` }));
  if (faults.length > 0) throw new InputError(faults);
  return {
    powder: powder ? powder.have - powder.reserve : Number.POSITIVE_INFINITY,
    lossPerRun: powder?.lossPerRun ?? 0,
    minimumRun: powder?.minimumRun ?? 0,
    time: Number(options.hours) * 3600,
    feeding: Number(options.minutes) * 60,
    changeover: Number(options.changeover) * 60,
    runs: Math.min(MOST_RUNS, Math.round(Number(options.runs))),
  };
}

/** Settings in panel units; the wheel's drive frequency too where the scenario knows it. */
function panel(scenario: Scenario): { rotor: string; wheelName: string; wheel: string; feed: string } {
  const { settings } = toCase(scenario);
  const { drives } = scenario.machine;
  const turns = (speed: number, drive: typeof drives.wheel): string => {
    const shaft = `${Math.round(speed * 60)} rpm`;
    return drive ? `${shaft} (${formatNumber((speed / drive.shaftSpeed) * drive.frequency, 3)} Hz)` : shaft;
  };
  return {
    rotor: turns(settings.rotorSpeed, drives.rotor),
    wheelName: scenario.settings.wheel,
    wheel: turns(settings.wheelSpeed, drives.wheel),
    feed: `${formatNumber(toShown(settings.feedRate, 'kg/h'), 3)} kg/h`,
  };
}

function asText(scenario: Scenario, target: Scenario, plan: Plan, budget: Budget): string {
  const { runs, questions, before } = plan;
  const at = panel(target);
  const last = runs.at(-1);
  const powder = runs.reduce((sum, run) => sum + run.powder, 0);
  const hours = runs.reduce((sum, run) => sum + run.time, 0) / 3600;
  const answer = last
    ? `${runs.length} ${runs.length === 1 ? 'run leaves' : 'runs leave'} ${formatNumber(100 * Math.sqrt(last.doubt), 2)} % of the error of the answer (${formatNumber(powder, 3)} kg of powder, ${formatNumber(hours, 2)} h).`
    : `No run can be made: ${plan.stopped}.`;
  const left = Number.isFinite(budget.powder)
    ? `${formatNumber(budget.powder, 3)} kg may be spent`
    : 'the scenario states no powder:, so nothing limits it';
  return [
    `RUN SHEET  ${scenario.title}`,
    '',
    answer,
    `Asked about: rotor ${at.rotor}, wheel ${at.wheelName} ${at.wheel}, ${at.feed}.`,
    ...questions.map((one, i) => questionInWords(scenario, one, before[i]!, last?.errors[i])),
    '',
    ...(last ? [runTable(runs), ''] : []),
    ...(last
      ? [
          `No further run: ${plan.stopped}. Powder: ${left}. Bands here follow the model as known now, linearised.`,
          '',
        ]
      : []),
    'Each run: empty and idle first, note the idle power; feed until power and outlet temperature stand still; sample the product;',
    'note feed mass, product and filter mass, minutes, kW or amps, outlet temperature. Stop when the motor nears its limit.',
    CAUTION,
    '',
  ].join('\n');
}

function questionInWords(
  scenario: Scenario,
  { text }: Question,
  before: number,
  after: number | undefined,
): string {
  const unit = scenario.spec.find((one) => one.text === text)?.shownIn;
  const show = (error: number): string =>
    unit
      ? `${formatNumber(toShownDifference(error, unit), 2)} ${labelOf(unit)}`.trim()
      : formatNumber(error, 2);
  return `  ${text}: ± ${show(before)} now${after === undefined ? '' : `, ± ${show(after)} after`}`;
}

function runTable(runs: readonly PlannedRun[]): string {
  const rows = runs.map(({ scenario, powder, forecast }, i) => {
    const at = panel(scenario);
    return [
      `${i + 1}`,
      at.rotor,
      at.wheelName,
      at.wheel,
      at.feed,
      `${formatNumber(powder, 3)} kg`,
      `${formatQuantity(forecast.x50, 'um', 3)}`,
      `${formatQuantity(forecast.x95, 'um', 3)}`,
      `${formatQuantity(forecast.power, 'kW', 3)}`,
    ];
  });
  return textTable([
    ['run', 'rotor', 'wheel', 'wheel speed', 'feed', 'powder', 'expect x50', 'x95', 'power'],
    ...rows,
  ]);
}

function asJson(scenario: Scenario, target: Scenario, plan: Plan): string {
  const settings = (of: Scenario) => {
    const c = toCase(of);
    return {
      rotorSpeed_rpm: c.settings.rotorSpeed * 60,
      wheel: of.settings.wheel,
      wheelSpeed_rpm: c.settings.wheelSpeed * 60,
      feedRate_kg_per_h: toShown(c.settings.feedRate, 'kg/h'),
      airFlow_m3_per_h: toShown(c.air.flow, 'm^3/h'),
    };
  };
  const shown = (text: string, error: number): number => {
    const unit = scenario.spec.find((one) => one.text === text)?.shownIn;
    return unit ? toShownDifference(error, unit) : error;
  };
  const body = {
    askedAbout: settings(target),
    questions: plan.questions.map(({ text }, i) => ({ text, errorNow: shown(text, plan.before[i]!) })),
    runs: plan.runs.map((run) => ({
      settings: settings(run.scenario),
      powder_kg: run.powder,
      time_min: run.time / 60,
      expected: {
        x50_um: toShown(run.forecast.x50, 'um'),
        x95_um: toShown(run.forecast.x95, 'um'),
        power_kW: toShown(run.forecast.power, 'kW'),
      },
      errorsAfter: plan.questions.map(({ text }, i) => shown(text, run.errors[i]!)),
      errorLeft: Math.sqrt(run.doubt),
    })),
    stopped: plan.stopped,
    candidates: plan.candidates,
  };
  return `${JSON.stringify(body, null, 2)}\n`;
}
