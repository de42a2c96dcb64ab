import { bandOf } from '../../src/trials/fit/quantile.ts';
import { seeded } from '../../src/trials/random.ts';
import {
  askingProduct,
  campaignScenario,
  hiddenTruth,
  numbersOnly,
  scenarioAt,
} from '../campaign/campaign.ts';
import { byNext, follow, ONE_AT_A_TIME, oneAtATime, type Standing } from '../campaign/strategies.ts';

/** Where campaigns stand after k + 1 trials: medians over campaigns of |ln x95 error| and of the fit's own doubt. */
export interface Curve {
  readonly error: number[];
  readonly doubt: number[];
  /** What was foretold of the next trial before it was run, against what the fit then stated. */
  readonly forecast: readonly ForecastFigures[];
}

/** Forecasts of one trial over campaigns: the standard error of the lines of the answer. */
export interface ForecastFigures {
  readonly campaigns: number;
  /** Medians, as shares of the limits. */
  readonly foretold: number;
  readonly found: number;
  /** Quartiles of found over foretold; above 1 the forecast was hopeful. */
  readonly ratio: readonly [low: number, median: number, high: number];
  /** Share of lines whose true value lies within one standard error foretold: 0.68 where it is honest. */
  readonly within: number;
}

/** The curves of both ways to choose trials, over the same hidden truths and the same noise. */
export interface Curves {
  readonly campaigns: number;
  readonly next: Curve;
  readonly oneAtATime: Curve;
}

/**
 * Campaigns whose trials `next` names against one factor at a time: how well x95 at the settings asked about is known
 * after each trial.
 *
 * @param campaigns hidden truths drawn
 * @param trials trials of each campaign
 */
export function nextCurves(campaigns: number, trials = 5, told?: (done: number) => void): Curves {
  const scenario = numbersOnly(campaignScenario());
  const asked = scenarioAt(askingProduct(scenario), {
    rotorSpeed: 6400 / 60,
    wheelSpeed: 1800 / 60,
    feedRate: 300 / 3600,
  });
  const next: Standing[][] = [];
  const habit: Standing[][] = [];
  for (let seed = 500; next.length < campaigns; seed++) {
    const truth = hiddenTruth(scenario, seeded(seed));
    // what the mill cannot run teaches neither way
    const places = [asked, ...ONE_AT_A_TIME.slice(0, trials).map((one) => scenarioAt(scenario, one))];
    if (places.some((place) => truth.solve(place).status !== 'steady')) continue;
    next.push(follow(asked, truth, byNext(scenario, asked, truth), trials, seeded(7000 + seed)));
    habit.push(follow(asked, truth, oneAtATime(scenario), trials, seeded(7000 + seed)));
    told?.(next.length);
  }
  return { campaigns, next: curveOf(next, trials), oneAtATime: curveOf(habit, trials) };
}

function curveOf(campaigns: readonly Standing[][], trials: number): Curve {
  const along = <T>(of: (standings: Standing[]) => T) =>
    Array.from({ length: trials }, (_, k) => of(campaigns.map((standings) => standings[k]!)));
  return {
    error: along((standings) => middle(standings.map(({ error }) => error))),
    doubt: along((standings) => middle(standings.map(({ doubt }) => doubt))),
    forecast: along(forecastOf),
  };
}

function forecastOf(standings: readonly Standing[]): ForecastFigures {
  const all = standings.flatMap(({ forecast }) => forecast ?? []);
  const ratios = all.map(({ found, foretold }) => found / foretold);
  const { low, median, high } = bandOf(ratios, 0.5);
  return {
    campaigns: all.length,
    foretold: middle(all.map(({ foretold }) => foretold)),
    found: middle(all.map(({ found }) => found)),
    ratio: [low, median, high],
    within: all.reduce((sum, { within }) => sum + within, 0) / all.length,
  };
}

function middle(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;
}
