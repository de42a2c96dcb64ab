import { availablePower } from '../model/rotor.ts';
import { type Expression, evaluate, type Requirement } from '../scenario/expression/expression.ts';
import { percentileOf, shareBelow } from '../scenario/measurement/measured-curve.ts';
import { toCase } from '../scenario/operating-point.ts';
import { isMet } from '../scenario/outcome/spec.ts';
import type { LoggedTrial } from '../trials/log/logged.ts';

/** One line of the spec held against what a trial measured; SI. */
export interface MeasuredLineOfSpec {
  /** NaN where the trial did not measure what the requirement needs. */
  readonly value: number;
  readonly limit: number;
  /** Absent where it was not measured. */
  readonly met?: boolean;
}

const PERCENTILE = /^x(\d{1,2}(?:\.\d{1,4})?)$/;

/** A line of the spec by measurement alone: sizes, power and temperature as read, settings as set, nothing from the model. */
export function measuredSpec(
  { left, right, relation, ...rest }: Requirement,
  trial: LoggedTrial,
): MeasuredLineOfSpec {
  const value = valueAt(left, trial);
  const limit = valueAt(right, trial);
  const margin = relation.startsWith('>') ? value - limit : limit - value;
  if (Number.isNaN(margin)) return { value, limit };
  return { value, limit, met: isMet({ left, right, relation, ...rest }, margin) };
}

function valueAt(expression: Expression, trial: LoggedTrial): number {
  return evaluate(expression, (name, argument) => measuredValue(name, argument, trial));
}

function measuredValue(name: string, argument: number | undefined, trial: LoggedTrial): number {
  const { sizes, power, outletTemperature } = trial;
  const { settings, rotor } = toCase(trial.scenario);
  const percent = Number(PERCENTILE.exec(name)?.[1]);
  if (percent > 0) return sizes ? percentileOf(sizes, percent / 100) : Number.NaN;
  switch (name) {
    case 'passing':
      return sizes && argument !== undefined ? shareBelow(sizes, argument) : Number.NaN;
    case 'oversize':
      return sizes && argument !== undefined ? 1 - shareBelow(sizes, argument) : Number.NaN;
    case 'rotorPower':
      return power?.value ?? Number.NaN;
    case 'motorLoad':
      return power ? power.value / availablePower(rotor.motor, settings.rotorSpeed) : Number.NaN;
    case 'specificEnergy':
      return power ? power.value / settings.feedRate : Number.NaN;
    case 'outletTemperature':
      return outletTemperature ?? Number.NaN;
    case 'feedRate':
      return settings.feedRate;
    default:
      return Number.NaN;
  }
}
