import { toShown } from '../../scenario/units/display.ts';
import type { TimeResult } from './time-run.ts';

const MICRO = 1e6;
const HOUR = 3600;

/** Keys of `time --json`; every one carries its unit. */
export function timeKeys({ series, settled, spread, warm, coldShift, choked }: TimeResult) {
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
    coldShiftOfX95: coldShift,
    choked,
    chokedAt_s: series.chokedAt,
    time_s: series.time,
    feedRate_kg_per_h: scaled(series.feedRate, 'kg/h'),
    x50_um: scaled(series.x50, 'um'),
    x95_um: scaled(series.x95, 'um'),
    sampleX50_um: scaled(series.sampleX50, 'um'),
    sampleX95_um: scaled(series.sampleX95, 'um'),
    productRate_kg_per_h: scaled(series.productRate, 'kg/h'),
    sampleRate_kg_per_h: scaled(series.sampleRate, 'kg/h'),
    holdup_kg: series.holdup,
    rotorPower_kW: scaled(series.rotorPower, 'kW'),
    outletTemperature_C: scaled(series.temperature, 'degC'),
    loading_kg_per_kg: series.loading,
    ...(spread.shares ? { shareOfFirst: series.share, sampleShareOfFirst: series.sampleShare } : {}),
  };
}
