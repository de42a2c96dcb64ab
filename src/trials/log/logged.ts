import type { Trial } from '../trial.ts';
import type { Closure } from './balance.ts';

/** A run of the log: what the fit takes, and what else was written down; SI. */
export interface LoggedTrial extends Trial {
  /** Place in the log, for messages. */
  readonly place: string;
  readonly closure?: Closure;
  /** Mass fed [kg] and duration [s]. */
  readonly feed?: number;
  readonly duration?: number;
  /** How the power was come by, in words. */
  readonly powerFrom?: string;
  /** What a reader should know of this run. */
  readonly flags: readonly string[];
}

/** A whole trial log. */
export interface TrialLog {
  readonly name: string;
  readonly trials: readonly LoggedTrial[];
}
