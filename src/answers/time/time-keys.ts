import { toShown } from '../../scenario/units/display.ts';
import type { TimeResult } from './time-run.ts';

/** Masses below this are none: what a mill grinds out never quite ends [kg]. */
const NOTHING = 1e-6;
const MICRO = 1e6;
const HOUR = 3600;

/** Keys of `time --json`; every one carries its unit. */
export function timeKeys(result: TimeResult) {
  const { series, settled, spread, warm, coldShift, choked, casing, masses, trips } = result;
  const scaled = (values: readonly number[], unit: string) => values.map((value) => toShown(value, unit));
  return {
    settled: settled.map(({ from, mill, sample }) => ({ from_s: from, mill_s: mill, sample_s: sample })),
    spread: {
      sampleX50_um: { mean: spread.x50.mean * MICRO, deviation: spread.x50.deviation * MICRO },
      sampleX95_um: { mean: spread.x95.mean * MICRO, deviation: spread.x95.deviation * MICRO },
      feedRate_kg_per_h: { mean: spread.feedRate.mean * HOUR, deviation: spread.feedRate.deviation * HOUR },
      ...(spread.shares ? { shareOfFirst: spread.shares } : {}),
    },
    warm_s: warm,
    riseAtOnce: result.atOnce,
    casing: {
      exchange_W_per_K: casing.exchange,
      loss_W_per_K: casing.loss,
      heatCapacity_kJ_per_K: toShown(casing.heatCapacity, 'kJ/K'),
    },
    masses: masses.map(({ from, fed, product, outOfSpec }) => ({
      from_s: from,
      fed_kg: fed,
      product_kg: product,
      outOfSpec_kg: result.judged ? outOfSpec : null,
    })),
    fedBeforeSample_kg: result.fedBeforeSample,
    trips: trips.map(({ at, trip }) => ({ at_s: at, trip })),
    coldShiftOfX95: coldShift,
    choked,
    chokedAt_s: series.chokedAt,
    feedAtChoke_kg_per_h: result.feedAtChoke === undefined ? null : toShown(result.feedAtChoke, 'kg/h'),
    time_s: series.time,
    feedRate_kg_per_h: scaled(series.feedRate, 'kg/h'),
    x50_um: scaled(series.x50, 'um'),
    x95_um: scaled(series.x95, 'um'),
    sampleX50_um: scaled(series.sampleX50, 'um'),
    sampleX95_um: scaled(series.sampleX95, 'um'),
    productRate_kg_per_h: scaled(series.productRate, 'kg/h'),
    sampleRate_kg_per_h: scaled(series.sampleRate, 'kg/h'),
    holdup_kg: series.holdup.map((mass) => (mass < NOTHING ? 0 : mass)),
    rotorPower_kW: scaled(series.rotorPower, 'kW'),
    outletTemperature_C: scaled(series.temperature, 'degC'),
    loading_kg_per_kg: series.loading,
    ...(spread.shares ? { shareOfFirst: series.share, sampleShareOfFirst: series.sampleShare } : {}),
  };
}
