import { seeded } from '../../src/trials/random.ts';
import { campaignScenario, hiddenTruth, scenarioAt } from '../campaign/campaign.ts';
import { byNext, follow, ONE_AT_A_TIME, oneAtATime, type Standing } from '../campaign/strategies.ts';

/** Where campaigns stand after k + 1 trials: medians over campaigns of |ln x95 error| and of the fit's own doubt. */
export interface Curve {
  readonly error: number[];
  readonly doubt: number[];
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
  const whole = campaignScenario();
  const factors = whole.sweep!.factors.filter(({ path }) => path !== 'wheel');
  const scenario = { ...whole, sweep: { ...whole.sweep!, factors } };
  const asked = scenarioAt(scenario, { rotorSpeed: 6400 / 60, wheelSpeed: 1800 / 60, feedRate: 300 / 3600 });
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
  const at = (k: number, what: keyof Standing): number => {
    const sorted = campaigns.map((standings) => standings[k]![what]).sort((a, b) => a - b);
    return sorted[Math.floor(sorted.length / 2)]!;
  };
  const along = (what: keyof Standing) => Array.from({ length: trials }, (_, k) => at(k, what));
  return { error: along('error'), doubt: along('doubt') };
}
