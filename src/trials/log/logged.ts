import type { Band } from '../fit/quantile.ts';
import type { Trial } from '../trial.ts';
import type { Closure } from './balance.ts';
import type { ForetoldReading } from './columns.ts';

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
  /** Readings foretold before the run with their 95 % bands, SI, where the log kept them. */
  readonly foretold: Readonly<Partial<Record<ForetoldReading, Band>>>;
  /** Cells of columns that a fit makes no use of, the remarks among them, by their headings. */
  readonly remarks: Readonly<Record<string, string>>;
  /** What a reader should know of this run. */
  readonly flags: readonly string[];
}

/** A whole trial log. */
export interface TrialLog {
  readonly name: string;
  readonly trials: readonly LoggedTrial[];
  /** Headings of columns that are kept as remarks and ignored by a fit. */
  readonly ignored: readonly string[];
}
