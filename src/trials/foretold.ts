import { percentileOf } from '../scenario/measurement/measured-curve.ts';
import { toShown } from '../scenario/units/display.ts';
import type { Band } from './fit/quantile.ts';
import { FORETOLD, type ForetoldReading } from './log/columns.ts';
import type { LoggedTrial } from './log/logged.ts';

/** One reading that was foretold and then taken, in the unit shown. */
interface ForetoldAndMeasured {
  readonly run: string;
  readonly reading: ForetoldReading;
  readonly unit: string;
  readonly low: number;
  readonly median: number;
  readonly high: number;
  readonly measured: number;
  readonly inside: boolean;
}

/** What was foretold beside what came out, and how many readings lay inside their 95 % bands. */
export interface Coverage {
  readonly readings: readonly ForetoldAndMeasured[];
  readonly inside: number;
  /** Readings that were both foretold and measured. */
  readonly of: number;
}

/** Every reading of the runs that was foretold with a 95 % band and measured. */
export function coverageOf(trials: readonly LoggedTrial[]): Coverage {
  const readings = trials.flatMap((trial) =>
    FORETOLD.flatMap(({ name, shownIn }) => {
      const band = trial.foretold[name];
      const measured = measuredOf(trial, name);
      return band && measured !== undefined ? [held(trial.name, name, band, measured, shownIn)] : [];
    }),
  );
  return { readings, inside: readings.filter(({ inside }) => inside).length, of: readings.length };
}

function held(
  run: string,
  reading: ForetoldReading,
  { low, median, high }: Band,
  measured: number,
  unit: string,
): ForetoldAndMeasured {
  const shown = (value: number): number => toShown(value, unit);
  return {
    run,
    reading,
    unit,
    low: shown(low),
    median: shown(median),
    high: shown(high),
    measured: shown(measured),
    inside: measured >= low && measured <= high,
  };
}

function measuredOf(trial: LoggedTrial, name: ForetoldReading): number | undefined {
  if (name === 'power') return trial.power?.value;
  if (name === 'outletTemperature') return trial.outletTemperature;
  if (!trial.sizes) return undefined;
  const size = percentileOf(trial.sizes, name === 'x50' ? 0.5 : 0.95);
  return Number.isFinite(size) ? size : undefined;
}
