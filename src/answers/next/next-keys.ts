import { toCase } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { toShown } from '../../scenario/units/display.ts';
import type { RunCost } from '../../search/next/budget.ts';
import type { Plan } from '../../search/next/plan.ts';
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
  const cost = ({ feed, duration }: RunCost) => ({ feed_kg: feed, duration_min: toShown(duration, 'min') });
  return {
    title: scenario.title,
    answer: {
      lines: plan.answer.lines.map(({ text, value }) => ({ text, value })),
      missed: plan.answer.missed,
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
      movesSettings: run.moves,
    })),
    repeatOfFirst: plan.repeat ? cost(plan.repeat) : null,
  };
}
