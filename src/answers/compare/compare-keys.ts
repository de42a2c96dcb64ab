import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { toShown } from '../../scenario/units/display.ts';
import type { Band } from '../../search/compare/band.ts';
import { COMPARED, comparedAt } from '../../search/compare/compared.ts';
import type { Comparison, WheelAtTarget } from '../../search/compare/comparison.ts';
import { energyOf, type RotorAtTarget } from '../../search/compare/rotors.ts';
import { targetUnit } from './target-words.ts';

/** A value with its range, in the unit its key names; null where the target may not be reached. */
function ranged(value: number, band: Band | undefined, unit: string) {
  const shown = (each: number | undefined) =>
    each === undefined || !Number.isFinite(each) ? null : toShown(each, unit);
  return { value: shown(value), low: shown(band?.low), high: shown(band?.high) };
}

/** Keys of `compare --json`; every one carries its unit. */
export function compareKeys(scenario: Scenario, comparison: Comparison) {
  const { target, fines, wheels, rotors, unequal, worth } = comparison;
  const unit = targetUnit(target);
  return {
    matched: { by: target.quantity, value: toShown(target.value, unit), unit },
    fines_um: toShown(fines, 'um'),
    feedRate_kg_per_h: toShown(scenario.settings.feedRate, 'kg/h'),
    wheels: wheels.map((wheel) => wheelKeys(wheel, comparison, unit)),
    unequal,
    ...(rotors ? { rotors: rotors.map((rotor) => rotorKeys(rotor, unit)) } : {}),
    worth: worth
      ? worth.rows.map(({ coefficient, from, to, fines: share, energy, margin }) => ({
          wheel: worth.wheel,
          coefficient,
          from,
          to,
          fines: share ?? null,
          specific_kWh_per_t: energy ? energy.map((each) => toShown(each, 'kWh/t')) : null,
          feedMargin: margin ?? null,
        }))
      : [],
  };
}

function wheelKeys(
  { name, matched, bands, changes = [], sameAs }: WheelAtTarget,
  { fines }: Comparison,
  unit: string,
) {
  if (!matched.reached || !bands)
    return {
      name,
      reached: false,
      because: matched.reached ? null : matched.because,
      nearest: matched.reached || Number.isNaN(matched.nearest) ? null : toShown(matched.nearest, unit),
      speed_rpm: ranged(matched.speed, undefined, 'rpm'),
    };
  const values = comparedAt(matched, fines);
  return {
    name,
    reached: true,
    sameAs: sameAs ?? null,
    speed_rpm: ranged(values.speed, bands.of.speed, 'rpm'),
    alsoAt_rpm: matched.alsoAt.map((speed) => toShown(speed, 'rpm')),
    belowFines: ranged(values.fines, bands.of.fines, '1'),
    ...Object.fromEntries(
      COMPARED.map((each) => {
        const { key, shownIn } = quantityNamed(each)!;
        return [key, ranged(values[each], bands.of[each], shownIn)];
      }),
    ),
    ranges: bands.ranged.map(({ path, low, high, unit: shownIn }) => ({
      path,
      low: toShown(low, shownIn),
      high: toShown(high, shownIn),
      unit: shownIn,
    })),
    mayMiss: bands.mayMiss,
    geometry: changes.map(({ key, cut, choke }) => ({ change: key, cutSize: cut, feedAtChoke: choke })),
  };
}

function rotorKeys({ name, matched, band }: RotorAtTarget, unit: string) {
  if (!matched.reached)
    return {
      name,
      reached: false,
      because: matched.because,
      nearest: Number.isNaN(matched.nearest) ? null : toShown(matched.nearest, unit),
    };
  return {
    name,
    reached: true,
    wheelSpeed_rpm: toShown(matched.speed, 'rpm'),
    specific_kWh_per_t: ranged(energyOf(matched.solved), band, 'kWh/t'),
  };
}
