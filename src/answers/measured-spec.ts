import { availablePower } from '../model/rotor.ts';
import { type Expression, evaluate, type Requirement } from '../scenario/expression/expression.ts';
import { percentileOf, shareBelow } from '../scenario/measurement/measured-curve.ts';
import { toCase } from '../scenario/operating-point.ts';
import { isMet } from '../scenario/outcome/spec.ts';
import { FEEDER_ERROR } from '../trials/fit/compare.ts';
import { type CurveReading, readingErrors } from '../trials/fit/covariance.ts';
import type { LoggedTrial } from '../trials/log/logged.ts';
import { MEASUREMENT_ERRORS } from '../trials/trial.ts';

/** How a measured run stands to a requirement; `not resolved`: it misses by less than its measuring error. */
export type MeasuredStanding = 'met' | 'missed' | 'not resolved' | 'not measured';

/** One line of the spec held against what a trial measured; SI. */
export interface MeasuredLineOfSpec {
  /** NaN where the trial did not measure what the requirement needs. */
  readonly value: number;
  readonly limit: number;
  /** Absent where it was not measured. */
  readonly met?: boolean;
  readonly standing: MeasuredStanding;
  /** Half of the 95 % range of the measuring error of value less limit; NaN where it was not measured. */
  readonly error: number;
}

/** Half of a 95 % range in standard errors. */
const HALF_RANGE = 1.96;
/** Standard error of a thermometer in the outlet [K]: half the ±1.5 K of class 1 in IEC 60584-1 (from memory). */
const THERMOMETER_ERROR = 0.75;

/**
 * A line of the spec by measurement alone: sizes, power and temperature as read, settings as set, nothing from the model.
 * It is missed only where the miss exceeds the measuring error (1.96 standard errors of value less limit, those of one size
 * curve taken together); a smaller miss is not resolved.
 */
export function measuredSpec(requirement: Requirement, trial: LoggedTrial): MeasuredLineOfSpec {
  const { left, right, relation } = requirement;
  const readings = new Readings(trial);
  const [value, limit] = [left, right].map((side) => evaluate(side, readings.value));
  const margin = relation.startsWith('>') ? value! - limit! : limit! - value!;
  if (Number.isNaN(margin))
    return { value: value!, limit: limit!, standing: 'not measured', error: Number.NaN };
  const met = isMet(requirement, margin);
  const error = HALF_RANGE * readings.errorOf([left, right]);
  const standing = met ? 'met' : -margin <= error ? 'not resolved' : 'missed';
  return { value: value!, limit: limit!, met, standing, error };
}

const PERCENTILE = /^x(\d{1,2}(?:\.\d{1,4})?)$/;

/** One number taken off a trial: its value, its standard error, and its place on the size curve where it is of one. */
interface Reading {
  readonly value: number;
  readonly error: number;
  readonly place?: CurveReading;
  /** Whether it falls where the share below rises. */
  readonly coarser?: boolean;
}

/** What expressions read off one trial, each number once, with the errors they have together. */
class Readings {
  private readonly trial: LoggedTrial;
  private readonly taken = new Map<string, Reading>();

  constructor(trial: LoggedTrial) {
    this.trial = trial;
  }

  readonly value = (name: string, argument?: number): number => this.take(name, argument).value;

  /** Standard error of left less right, from the slope of the difference by every reading. */
  errorOf([left, right]: readonly [Expression, Expression]): number {
    const taken = [...this.taken.entries()];
    const gap = (moved: string, by: number) => {
      const lookup = (name: string, argument?: number) => {
        const { value } = this.take(name, argument);
        return keyOf(name, argument) === moved ? value + by : value;
      };
      return evaluate(left, lookup) - evaluate(right, lookup);
    };
    const effects = taken.map(([key, { error, coarser }]) =>
      error > 0 ? ((coarser ? -1 : 1) * (gap(key, error) - gap(key, -error))) / 2 : 0,
    );
    const onCurve = taken.flatMap(([, { place }], i) => (place ? [{ i, place }] : []));
    const { sizes, repeats = 1 } = this.trial;
    const common =
      sizes &&
      readingErrors(
        sizes,
        repeats,
        MEASUREMENT_ERRORS,
        onCurve.map(({ place }) => place),
      );
    let variance = 0;
    effects.forEach((effect, i) => {
      if (!taken[i]![1].place) variance += effect ** 2;
    });
    onCurve.forEach(({ i }, a) => {
      onCurve.forEach(({ i: j }, b) => {
        const correlation = common!.get(a, b) / Math.sqrt(common!.get(a, a) * common!.get(b, b));
        variance += effects[i]! * effects[j]! * correlation;
      });
    });
    return Math.sqrt(Math.max(0, variance));
  }

  private take(name: string, argument?: number): Reading {
    const key = keyOf(name, argument);
    const known = this.taken.get(key);
    if (known) return known;
    const reading = readingOf(name, argument, this.trial);
    this.taken.set(key, reading);
    return reading;
  }
}

const keyOf = (name: string, argument?: number): string => `${name}(${argument ?? ''})`;

const NOT_MEASURED: Reading = { value: Number.NaN, error: Number.NaN };

function readingOf(name: string, argument: number | undefined, trial: LoggedTrial): Reading {
  const { power, outletTemperature } = trial;
  const { settings, rotor } = toCase(trial.scenario);
  const percent = Number(PERCENTILE.exec(name)?.[1]);
  if (percent > 0) return sizeReading(trial, percent / 100);
  const ofPower = (over: number, more = 0): Reading =>
    power
      ? { value: power.value / over, error: (power.value / over) * Math.hypot(power.error, more) }
      : NOT_MEASURED;
  switch (name) {
    case 'passing':
      return shareReading(trial, argument);
    case 'oversize':
      return shareReading(trial, argument, true);
    case 'rotorPower':
      return ofPower(1);
    case 'motorLoad':
      return ofPower(availablePower(rotor.motor, settings.rotorSpeed));
    case 'specificEnergy':
      return ofPower(settings.feedRate, FEEDER_ERROR);
    case 'outletTemperature':
      return outletTemperature === undefined
        ? NOT_MEASURED
        : { value: outletTemperature, error: THERMOMETER_ERROR };
    case 'feedRate':
      return { value: settings.feedRate, error: 0 };
    default:
      return NOT_MEASURED;
  }
}

function sizeReading({ sizes, repeats = 1 }: LoggedTrial, share: number): Reading {
  const size = sizes ? percentileOf(sizes, share) : Number.NaN;
  if (!sizes || Number.isNaN(size)) return NOT_MEASURED;
  const place: CurveReading = { of: 'size', size, share };
  const relative = Math.sqrt(readingErrors(sizes, repeats, MEASUREMENT_ERRORS, [place]).get(0, 0));
  return { value: size, error: size * relative, place };
}

function shareReading(
  { sizes, repeats = 1 }: LoggedTrial,
  size: number | undefined,
  coarser = false,
): Reading {
  const share = sizes && size !== undefined ? shareBelow(sizes, size) : Number.NaN;
  if (!sizes || size === undefined || Number.isNaN(share)) return NOT_MEASURED;
  const place: CurveReading = { of: 'share', size, share };
  const error = Math.sqrt(readingErrors(sizes, repeats, MEASUREMENT_ERRORS, [place]).get(0, 0));
  return { value: coarser ? 1 - share : share, error, place, coarser };
}
