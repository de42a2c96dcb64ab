import { sizeAt } from '../../model/psd/curve.ts';
import { SAFETY_CAUTION } from '../../plant/safety/checklist.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { toShown } from '../../scenario/units/display.ts';
import { UNKNOWNS } from '../../search/scale/bands.ts';
import type { Scaled, ScaledPoint } from '../../search/scale/scale.ts';
import { NOT_COMPUTED, unscaledOf } from '../../search/scale/what-does-not-scale.ts';

/** A point carried over to another machine. */
export interface CarriedOver {
  readonly scenario: Scenario;
  readonly other: Scenario;
  readonly from: Solved;
  readonly scaled: Scaled;
  /** Coefficients taken over from the first machine. */
  readonly taken: readonly string[];
}

/** Keys of `scale --json`; every one carries its unit. */
export function scaleKeys({ other, from, scaled, taken }: CarriedOver) {
  const point = scaled.most ?? scaled.same;
  return {
    machine: other.machine.name,
    from: pointKeys(from),
    sameLoading: scaled.same ? scaledKeys(scaled.same) : null,
    highestRate: scaled.most ? scaledKeys(scaled.most) : null,
    stoppedBy: scaled.stoppedBy,
    notScaled: point
      ? unscaledOf(from, point.solved).map(({ what, why, shownIn, from: before, to }) => ({
          what,
          why,
          unit: shownIn,
          from: toShown(before, shownIn),
          to: toShown(to, shownIn),
        }))
      : [],
    notComputed: NOT_COMPUTED,
    assumedSpreads: UNKNOWNS.map(({ name, spread, source }) => ({ name, spread, label: 'assumed', source })),
    takenOver: taken,
    caution: SAFETY_CAUTION,
  };
}

/** A percentile of the product [m]. */
export function percentileAt({ curve }: Solved, name: 'x50' | 'x95' | 'x97'): number {
  return sizeAt(curve, Number(name.slice(1)) / 100);
}

function pointKeys(solved: Solved) {
  const { case: c, state } = solved;
  const { conditions } = state;
  return {
    rotorSpeed_rpm: toShown(c.settings.rotorSpeed, 'rpm'),
    wheel: c.wheelName,
    wheelSpeed_rpm: toShown(c.settings.wheelSpeed, 'rpm'),
    feedRate_kg_per_h: toShown(c.settings.feedRate, 'kg/h'),
    airFlow_m3_per_h: toShown(c.air.flow, 'm^3/h'),
    x50_um: toShown(percentileAt(solved, 'x50'), 'um'),
    x95_um: toShown(percentileAt(solved, 'x95'), 'um'),
    x97_um: toShown(percentileAt(solved, 'x97'), 'um'),
    edges_um: Array.from(solved.curve.edges, (edge) => toShown(edge, 'um')),
    undersize: Array.from(solved.curve.undersize),
    tipSpeed_m_per_s: conditions.tipSpeed,
    rotorPower_kW: toShown(conditions.rotorPower, 'kW'),
    wheelPower_kW: toShown(conditions.wheelPower, 'kW'),
    specific_kWh_per_t: toShown(conditions.rotorPower / c.settings.feedRate, 'kWh/t'),
    outletTemperature_C: toShown(conditions.temperature, 'degC'),
    feedAtChoke_kg_per_h: toShown(state.feedAtChoke, 'kg/h'),
  };
}

function scaledKeys({ solved, difference, limits, limit, bands }: ScaledPoint) {
  return { ...pointKeys(solved), difference, limits, limit, bands };
}
