import type { PlantState, ProductStream } from '../../plant/plant-state.ts';
import type { PresetInUse } from '../../plant/presets.ts';
import { SAFETY_CHECKLIST } from '../../plant/safety/checklist.ts';
import type { ShaftRundown } from '../../plant/safety/dust-screening.ts';
import type { ScreeningLine } from '../../plant/safety/plant-screening.ts';
import { gasFlow, humidityOf, solidsFlow } from '../../plant/stream.ts';
import { PLANT_QUANTITIES } from '../../scenario/outcome/plant-quantities.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { toShown } from '../../scenario/units/display.ts';

/** Keys of `plant --json`; every one carries its unit. */
export function plantKeys(
  solved: Solved,
  screening: { readonly lines: readonly ScreeningLine[]; readonly shafts: readonly ShaftRundown[] },
  presets: readonly PresetInUse[],
) {
  const state = solved.plant!;
  return {
    status: 'steady',
    airFlow_m3_per_h: toShown(state.case.air.flow, 'm^3/h'),
    quantities: Object.fromEntries(
      PLANT_QUANTITIES.map(({ key, of, shownIn }) => [key, toShown(of(solved), shownIn)]),
    ),
    stations: state.march.stations.map(({ name, stream }) => ({
      name,
      pressure_Pa: stream.pressure,
      temperature_C: toShown(stream.temperature, 'degC'),
      air_kg_per_h: toShown(gasFlow(stream), 'kg/h'),
      humidity_g_per_kg: toShown(humidityOf(stream), 'g/kg'),
      solids_kg_per_h: toShown(solidsFlow(stream.solids), 'kg/h'),
    })),
    units: unitsJson(state),
    streams: Object.fromEntries(
      Object.entries(state.streams).map(([name, stream]) => [name, streamJson(state, stream)]),
    ),
    closure: state.closure,
    safety: {
      lines: screening.lines,
      rundown: screening.shafts.map(({ part, rundown }) => ({
        part,
        toSlow_s: rundown?.toSlow ?? null,
        toRest_s: rundown?.toRest ?? null,
      })),
      checklist: SAFETY_CHECKLIST,
    },
    presets,
    warnings: state.warnings,
  };
}

function streamJson({ state, case: c }: PlantState, { rate, moisture, curve, bySize }: ProductStream) {
  return {
    rate_kg_per_h: toShown(rate, 'kg/h'),
    share: rate / c.settings.feedRate,
    moisture,
    edges_um: Array.from(state.grid.edges, (edge) => toShown(edge, 'um')),
    undersize: curve ? Array.from(curve.undersize) : null,
    bySize_kg_per_h: Array.from(bySize, (each) => toShown(each, 'kg/h')),
  };
}

function unitsJson({ feeder, march, fan }: PlantState) {
  const line = (of: typeof march.conveying.line) => ({
    diameter_mm: toShown(of.diameter, 'mm'),
    given: of.given,
    velocity_m_per_s: of.velocity,
    saltationVelocity_m_per_s: of.saltationVelocity,
    loading_kg_per_kg: of.loading,
    pressureLoss_Pa: of.pressureLoss,
    losses_Pa: of.losses,
  });
  const lock = (of: typeof march.cyclone.lock) => ({
    pocketVolume_L: toShown(of.pocketVolume, 'L'),
    given: of.given,
    capacity_kg_per_h: toShown(of.capacity, 'kg/h'),
    use: of.use,
    leakage_m3_per_h: toShown(of.pocketLeakage + of.clearanceLeakage, 'm^3/h'),
  });
  const { unit: cyclone } = march.cyclone;
  const { unit: filter } = march.filter;
  return {
    feeder: {
      law: feeder.law,
      given: feeder.given,
      minimumRate_kg_per_h: toShown(feeder.minimumRate, 'kg/h'),
      maximumRate_kg_per_h: toShown(feeder.maximumRate, 'kg/h'),
      use: feeder.use,
      spread: feeder.spread,
    },
    feedLine: line(march.intake.feedLine),
    damper_Pa: march.intake.damper,
    mill: { pressureLoss_Pa: march.mill.loss },
    productLine: line(march.conveying.line),
    cyclone: {
      count: cyclone.count,
      diameter_mm: toShown(cyclone.diameter, 'mm'),
      given: cyclone.given,
      inletVelocity_m_per_s: cyclone.inletVelocity,
      cutSizes_um: cyclone.cutSizes.map((cut) => toShown(cut, 'um')),
      kept: cyclone.kept.map((shares) => Array.from(shares)),
      thrownOut: cyclone.thrownOut,
      collected: cyclone.collected,
      pressureLoss_Pa: cyclone.pressureLoss,
      airlock: lock(march.cyclone.lock),
    },
    filter: {
      bags: filter.bags,
      given: filter.given,
      area_m2: filter.area,
      airToCloth_m_per_min: toShown(filter.airToCloth, 'm/min'),
      canVelocity_m_per_s: filter.canVelocity,
      cake_kg_per_m2: filter.cake,
      pressureLoss_Pa: filter.pressureLoss,
      airlock: lock(march.filter.lock),
    },
    fan: {
      flow_m3_per_h: toShown(fan.flow, 'm^3/h'),
      rise_Pa: fan.rise,
      speed: fan.speed,
      power_kW: toShown(fan.power, 'kW'),
      motorUse: fan.motorUse,
      outletTemperature_C: toShown(fan.outletTemperature, 'degC'),
    },
  };
}
