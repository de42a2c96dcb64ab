import { toCase } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { toShown } from '../../scenario/units/display.ts';
import type { RunCost } from '../../search/next/budget.ts';
import type { Plan } from '../../search/next/plan.ts';
import { crossings, stopLimits } from '../../search/next/stop-limits.ts';
import type { Band } from '../../trials/fit/quantile.ts';
import type { Expected } from './run-sheet.ts';

/** Keys of `next --json`; every one carries its unit. */
export function nextKeys(scenario: Scenario, plan: Plan, rows: readonly Expected[]) {
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
  const cost = ({ feed, powder, duration }: RunCost) => ({
    feed_kg: feed,
    powder_kg: powder,
    duration_min: toShown(duration, 'min'),
  });
  const stopJson = (at: Scenario) => {
    const { power, temperature, airFlow } = stopLimits(at);
    return {
      power_kW: toShown(power, 'kW'),
      outletTemperature_C: temperature === undefined ? null : toShown(temperature, 'degC'),
      airFlow_m3_per_h: toShown(airFlow, 'm^3/h'),
    };
  };
  return {
    title: scenario.title,
    answer: {
      lines: plan.answer.lines.map(({ text, value }) => ({ text, value })),
      missed: plan.answer.missed,
      settings: setting(plan.answer.scenario),
    },
    ends: plan.ends,
    settingsUncertainty: plan.settingsInDoubt,
    bestRaise: plan.bestRaise ?? null,
    powder_kg: plan.powder,
    time_h: toShown(plan.time, 'h'),
    notRun: plan.notRun.map(({ why, reason, scenario: at }) => ({ why, reason, settings: setting(at) })),
    runs: rows.map(({ run, power, temperature, x50, x95 }) => ({
      why: run.why,
      settings: setting(run.trial.scenario),
      stopAt: stopJson(run.trial.scenario),
      crosses: crossings({ power, temperature, x50, x95 }, stopLimits(run.trial.scenario)).map(
        ({ reading }) => reading,
      ),
      ...cost(run.cost),
      expected: {
        power_kW: bandIn(power, 'kW'),
        outletTemperature_C: bandIn(temperature, 'degC'),
        x95_um: bandIn(x95, 'um'),
      },
      determines: run.settles,
      uncertaintyBefore: run.before,
      uncertaintyAfter: run.after,
      movesSettings: run.moves,
      raisesSafeRate: run.raises,
    })),
    repeatOfFirst: plan.repeat ? cost(plan.repeat) : null,
  };
}
