import { captureEfficiency } from '../../model/rotor.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';

/** Something that is not the same on the other machine although the product is: before and after, in words. */
export interface Unscaled {
  readonly what: string;
  readonly from: number;
  readonly to: number;
  /** Unit both are in, SI. */
  readonly unit: string;
  readonly shownIn: string;
  readonly why: string;
}

/** Size at which capture by the elements is shown [m]. */
const FINE = 5e-6;

/** What does not scale between two points of the same product. */
export function unscaledOf(from: Solved, to: Solved): Unscaled[] {
  const row = (
    what: string,
    unit: string,
    shownIn: string,
    of: (s: Solved) => number,
    why: string,
  ): Unscaled => ({
    what,
    unit,
    shownIn,
    why,
    from: of(from),
    to: of(to),
  });
  return [
    row(
      'capture of 5 µm particles by the rotor',
      '1',
      '%',
      capture,
      'wider elements let more fines slip round them, so the fine end of the curve moves',
    ),
    row(
      'hits per pass',
      '1',
      '1',
      (s) => s.state.conditions.hitsPerPass,
      'follows count, height and gap of the elements, which are not in proportion',
    ),
    row(
      'mean time in the loop',
      's',
      's',
      residence,
      'a longer way round: settling, heating and sticking take longer',
    ),
    row(
      'idle share of the rotor power',
      '1',
      '%',
      (s) => s.state.conditions.idlePower / s.state.conditions.rotorPower,
      'drag grows as N³D⁵, grinding as the rate',
    ),
    row(
      'rotor energy per mass',
      'J/kg',
      'kWh/t',
      (s) => s.state.conditions.rotorPower / s.case.settings.feedRate,
      'follows the idle share and the hits',
    ),
    row(
      'outlet temperature',
      'K',
      'degC',
      (s) => s.state.conditions.temperature,
      'follows power over air; the walls of a larger machine give away less of it',
    ),
    row(
      'gap over rotor diameter',
      '1',
      '%',
      (s) => s.case.rotor.geometry.gap / s.case.rotor.geometry.diameter,
      'clearances follow manufacture, not size',
    ),
  ];
}

function capture({ case: c, state }: Solved): number {
  const { impactSpeed, viscosity } = state.conditions;
  return captureEfficiency(
    FINE,
    c.components[0]!.material.density,
    impactSpeed,
    viscosity,
    c.rotor.geometry.width,
  );
}

function residence({ case: c, state }: Solved): number {
  return (state.circulating * c.loop.loopTime) / c.settings.feedRate;
}

/** What no model of size and power carries over. */
export const NOT_COMPUTED: readonly string[] = [
  'deposits, wear and the metal they bring, feed that spreads unevenly round a larger rotor: watch for them on the first run',
  'collection, fan and lines: they are another plant; `plant` sizes and judges them for the other machine',
  'dust explosion protection: a larger volume is a new case for licensed practice; nothing of the small machine carries over',
];
