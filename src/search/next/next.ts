import type { Matrix } from 'ml-matrix';
import { toCase } from '../../scenario/point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { sobolCoordinate, sobolDirections } from '../../sweep/sequence/sobol.ts';
import { scenarioAt } from '../../sweep/study/point-case.ts';
import { modelAt } from '../../trials/fit/compare.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import { coordinateOf, type SearchSpace } from '../find/space.ts';
import { doubtOf, errorOf, type Question } from './question.ts';
import { forecast, informationOf, learned } from './teach.ts';

/** What may be spent; SI. */
export interface Budget {
  /** Powder that may be used [kg]; Infinity where nothing limits it. */
  readonly powder: number;
  readonly lossPerRun: number;
  readonly minimumRun: number;
  /** Time for all runs [s]. */
  readonly time: number;
  /** Feeding of one run until the sample is taken, and setting up between runs [s]. */
  readonly feeding: number;
  readonly changeover: number;
  /** Runs at most. */
  readonly runs: number;
}

/** One run of the plan. */
export interface PlannedRun {
  readonly scenario: Scenario;
  /** Powder it takes [kg] and time [s]. */
  readonly powder: number;
  readonly time: number;
  readonly forecast: NonNullable<ReturnType<typeof forecast>>;
  /** Standard error of each question after this run, in the question's own unit. */
  readonly errors: readonly number[];
  /** Share of the doubt that is left after it. */
  readonly doubt: number;
}

export interface Plan {
  readonly questions: readonly Question[];
  /** Standard errors before any run. */
  readonly before: readonly number[];
  readonly runs: readonly PlannedRun[];
  /** Why there are no more runs. */
  readonly stopped: string;
  /** Settings looked at. */
  readonly candidates: number;
}

const CANDIDATES = 40;
/** Motor load a run is planned up to, by the model as known now (`assumed`). */
const SAFE_LOAD = 0.9;
/** A further run is planned while it takes at least this share of the doubt. */
const WORTH = 0.02;

/**
 * The runs that would most reduce the doubt of the questions, one after the other (Bayesian linear design: the covariance
 * after a run is (C⁻¹ + JᵀJ)⁻¹), among settings the mill can run and within powder and time.
 */
export function planTrials(
  scenario: Scenario,
  space: SearchSpace,
  posterior: Posterior,
  questions: readonly Question[],
  budget: Budget,
): Plan {
  const candidates = candidatesOf(scenario, space, posterior);
  const before = questions.map((one) => errorOf(one, posterior.covariance));
  const base = { questions, before, candidates: candidates.length };
  // the run that teaches most may take all the powder where three small ones together would teach more
  const plans = [false, true].map((perKilogram) =>
    sequence(candidates, posterior, questions, budget, perKilogram),
  );
  const [greedy, thrifty] = plans;
  const doubtLeft = ({ runs }: (typeof plans)[number]): number => runs.at(-1)?.doubt ?? 1;
  return { ...base, ...(doubtLeft(thrifty!) < doubtLeft(greedy!) ? thrifty! : greedy!) };
}

interface Candidate {
  readonly scenario: Scenario;
  readonly information: Matrix;
}

function sequence(
  candidates: readonly Candidate[],
  posterior: Posterior,
  questions: readonly Question[],
  budget: Budget,
  perKilogram: boolean,
): Pick<Plan, 'runs' | 'stopped'> {
  const takesTime = budget.feeding + budget.changeover;
  const whole = doubtOf(questions, posterior.covariance);
  const runs: PlannedRun[] = [];
  let covariance: Matrix = posterior.covariance;
  let now = whole;
  let powder = budget.powder;
  let time = budget.time;
  while (runs.length < budget.runs) {
    if (takesTime > time + 1e-9) return { runs, stopped: 'no time is left for another run' };
    const affordable = candidates.filter((one) => powderOf(one.scenario, budget) <= powder + 1e-9);
    if (affordable.length === 0) return { runs, stopped: 'no powder is left for another run' };
    const best = affordable
      .map((one) => rated(one, covariance, questions, now, perKilogram ? powderOf(one.scenario, budget) : 1))
      .reduce((a, b) => (b.worth > a.worth ? b : a));
    if (now - best.doubt < WORTH * whole && runs.length > 0)
      return { runs, stopped: 'another run would teach next to nothing of this question' };
    covariance = best.after;
    now = best.doubt;
    powder -= powderOf(best.scenario, budget);
    time -= takesTime;
    runs.push({
      scenario: best.scenario,
      powder: powderOf(best.scenario, budget),
      time: takesTime,
      forecast: forecast(best.scenario, posterior)!,
      errors: questions.map((one) => errorOf(one, covariance)),
      doubt: now / whole,
    });
  }
  return { runs, stopped: `${budget.runs} runs were asked for` };
}

function rated(
  { scenario, information }: Candidate,
  covariance: Matrix,
  questions: readonly Question[],
  now: number,
  cost: number,
) {
  const after = learned(covariance, information);
  const doubt = doubtOf(questions, after);
  return { scenario, after, doubt, worth: Math.log(now / doubt) / cost };
}

/** Powder of one run: what is fed, no less than the least that settles, and what filling and cleaning lose. */
export function powderOf({ settings }: Scenario, { feeding, minimumRun, lossPerRun }: Budget): number {
  return Math.max(minimumRun, settings.feedRate * feeding) + lossPerRun;
}

/** Space-filling settings of every choice that the model, as known now, runs within motor and speeds. */
function candidatesOf(
  scenario: Scenario,
  { factors, numbers, choices }: SearchSpace,
  posterior: Posterior,
): Candidate[] {
  const directions = sobolDirections(Math.max(1, numbers.length));
  const found: Candidate[] = [];
  for (const choice of choices) {
    for (let point = 0; point < CANDIDATES; point++) {
      const at = Float64Array.from(choice);
      numbers.forEach((j, k) => {
        at[j] = coordinateOf(factors[j]!, sobolCoordinate(directions, point, k, 1));
      });
      const there = scenarioAt(scenario, factors, at);
      if (!isSafe(there, posterior)) continue;
      const information = informationOf(there, posterior);
      if (information) found.push({ scenario: there, information });
    }
  }
  return found;
}

function isSafe(scenario: Scenario, posterior: Posterior): boolean {
  const { settings, rotor, wheel } = toCase(scenario);
  if (settings.rotorSpeed > rotor.maxSpeed || settings.wheelSpeed > wheel.maxSpeed) return false;
  const point = modelAt({ name: '', scenario }, posterior.prior.coefficients, posterior.mean);
  if (point.status === 'choked') return false;
  const { rotorPower, availablePower } = point.state.conditions;
  return rotorPower <= SAFE_LOAD * availablePower;
}
