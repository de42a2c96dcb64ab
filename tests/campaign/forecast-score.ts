import { sizeAt } from '../../src/model/psd/curve.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import type { Fit } from '../../src/trials/fit/fit.ts';
import { drawsOf, predictPercentiles } from '../../src/trials/fit/predict.ts';
import { type Settings, scenarioAt } from './campaign.ts';
import type { Made } from './held-out.ts';

const SHARES = [0.1, 0.5, 0.9] as const;
/** How near a forecast must come to count: x10, x50, x90. */
const NEAR = [0.05, 0.03, 0.05] as const;
const DRAWS = 200;

/** Forecasts of one campaign against its truth. */
export interface ForecastScore {
  /** Share of the settings held out whose x10, x50 and x90 all come near. */
  readonly near: number;
  /** The same for each alone. */
  readonly each: readonly number[];
  /** Share whose truth lies in the 95 % band, by percentile, and of power. */
  readonly bands: readonly number[];
  readonly power: number;
  /** Mean half width of the 95 % bands, relative, by percentile, and of power. */
  readonly widths: readonly number[];
  /** Root mean square relative error of x50 and power. */
  readonly errors: readonly [x50: number, power: number];
  readonly lackOfFit: boolean;
  readonly suspects: readonly string[];
  readonly effective: number;
  readonly seconds: number;
  readonly brief: readonly unknown[];
}

export function scoreForecasts(
  scenario: Scenario,
  fit: Fit,
  blind: readonly Settings[],
  made: readonly Made[],
  seconds: number,
): ForecastScore {
  const draws = drawsOf(fit, DRAWS, 1);
  const rows = blind.map((settings, k) => {
    const { sizes, power } = predictPercentiles(scenarioAt(scenario, settings), fit, SHARES, draws);
    const real = SHARES.map((share) => sizeAt(made[k]!.curve, share));
    const errors = real.map((x, i) => sizes[i]!.median / x - 1);
    const p = made[k]!.rotorPower;
    return {
      near: errors.map((error, i) => Math.abs(error) <= NEAR[i]!),
      within: real.map((x, i) => x >= sizes[i]!.low && x <= sizes[i]!.high),
      power: p >= power.low && p <= power.high,
      widths: [...sizes, power].map(({ low, high }) => Math.log(high / low) / 2),
      error: [errors[1]!, power.median / p - 1] as const,
    };
  });
  const share = (of: (row: (typeof rows)[number]) => boolean): number => rows.filter(of).length / rows.length;
  const mean = (of: (row: (typeof rows)[number]) => number): number =>
    rows.reduce((sum, row) => sum + of(row), 0) / rows.length;
  const near = share((row) => row.near.every(Boolean));
  return {
    near,
    each: NEAR.map((_, i) => share((row) => row.near[i]!)),
    bands: SHARES.map((_, i) => share((row) => row.within[i]!)),
    power: share((row) => row.power),
    widths: [0, 1, 2, 3].map((i) => mean((row) => row.widths[i]!)),
    errors: [Math.sqrt(mean((row) => row.error[0] ** 2)), Math.sqrt(mean((row) => row.error[1] ** 2))],
    lackOfFit: fit.lackOfFit,
    suspects: fit.suspects,
    effective: fit.effective,
    seconds,
    brief: [near, fit.lackOfFit, fit.suspects, Math.round(fit.effective), Number(seconds.toFixed(1))],
  };
}

/** One line of the table. */
export function sumUp(scores: readonly ForecastScore[]): string {
  const mean = (of: (score: ForecastScore) => number): number =>
    scores.reduce((sum, score) => sum + of(score), 0) / scores.length;
  const percent = (value: number, digits = 0): string => (100 * value).toFixed(digits);
  const effective = scores.map((score) => score.effective).sort((a, b) => a - b);
  return [
    `near ${percent(mean(({ near }) => near))} % (x10 ${[0, 1, 2].map((i) => percent(mean(({ each }) => each[i]!))).join(' / ')})`,
    `in band ${[0, 1, 2].map((i) => percent(mean(({ bands }) => bands[i]!))).join(' / ')}, power ${percent(mean(({ power }) => power))}`,
    `half widths ${[0, 1, 2, 3]
      .map((i) =>
        percent(
          mean(({ widths }) => widths[i]!),
          1,
        ),
      )
      .join(' / ')}`,
    `r.m.s. x50 ${percent(Math.sqrt(mean(({ errors }) => errors[0] ** 2)), 1)}, power ${percent(Math.sqrt(mean(({ errors }) => errors[1] ** 2)), 1)}`,
    `lack of fit ${scores.filter(({ lackOfFit }) => lackOfFit).length}`,
    `named ${scores.reduce((sum, { suspects }) => sum + suspects.length, 0)}`,
    `effective ${effective[0]!.toFixed(0)} to ${effective[effective.length >> 1]!.toFixed(0)}`,
    `${mean(({ seconds }) => seconds).toFixed(1)} s`,
  ].join(' | ');
}
