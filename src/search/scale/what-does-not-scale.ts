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

/** Something that does not scale, and its value at a solved point. */
interface Row extends Omit<Unscaled, 'from' | 'to' | 'why'> {
  readonly of: (solved: Solved) => number;
  readonly why: string | ((from: Solved, to: Solved) => string);
}

const ROWS: readonly Row[] = [
  {
    what: 'capture of 5 µm particles by the rotor',
    unit: '1',
    shownIn: '%',
    of: capture,
    why: 'wider elements let more fines slip past them, so the fine end of the curve moves',
  },
  {
    what: 'hits per pass',
    unit: '1',
    shownIn: '1',
    of: (s) => s.state.conditions.hitsPerPass,
    why: whyHits,
  },
  {
    what: 'mean time in the loop',
    unit: 's',
    shownIn: 's',
    of: residence,
    why: 'a longer path round the loop: settling, heating and sticking take longer',
  },
  {
    what: 'idle share of the rotor power',
    unit: '1',
    shownIn: '%',
    of: (s) => s.state.conditions.idlePower / s.state.conditions.rotorPower,
    why: 'drag grows as N³D⁵, grinding as the rate',
  },
  {
    what: 'rotor energy per mass',
    unit: 'J/kg',
    shownIn: 'kWh/t',
    of: (s) => s.state.conditions.rotorPower / s.case.settings.feedRate,
    why: 'follows the idle share and the hits',
  },
  {
    what: 'outlet temperature',
    unit: 'K',
    shownIn: 'degC',
    of: (s) => s.state.conditions.temperature,
    why: 'follows power over air; the walls of a larger machine lose less of it',
  },
  {
    what: 'gap over rotor diameter',
    unit: '1',
    shownIn: '%',
    of: (s) => s.case.rotor.geometry.gap / s.case.rotor.geometry.diameter,
    why: 'clearances follow manufacture, not size',
  },
];

/** What does not scale between two points of the same product. */
export function unscaledOf(from: Solved, to: Solved): Unscaled[] {
  return ROWS.map(({ of, why, ...row }) => ({
    ...row,
    from: of(from),
    to: of(to),
    why: typeof why === 'string' ? why : why(from, to),
  }));
}

/** Changes of the hits per pass by less than this are none. */
const SAME_HITS = 0.005;

/**
 * Which of its factors changed the hits per pass most: elements and speed (k_0), crowding (1 + λ/λ_r), or the air's
 * expansion.
 */
function whyHits(from: Solved, to: Solved): string {
  const factors = [from, to].map(({ case: c, state: { conditions: at } }) => {
    const crowding = 1 + at.loading / c.rotor.coefficients.crowdingLoad;
    const expansion = at.temperature / c.air.temperature;
    return { free: at.hitsPerPass * crowding * expansion, crowding: 1 / crowding, expansion: 1 / expansion };
  });
  const change = (name: 'free' | 'crowding' | 'expansion') => Math.log(factors[1]![name] / factors[0]![name]);
  const [free, crowding, expansion] = [change('free'), change('crowding'), change('expansion')];
  if (Math.abs(free + crowding + expansion) < SAME_HITS) return 'the same within half a percent';
  const most = Math.max(Math.abs(free), Math.abs(crowding), Math.abs(expansion));
  if (most === Math.abs(crowding))
    return crowding < 0
      ? 'more solids per air crowd the rotor (eq. 6)'
      : 'fewer solids per air crowd the rotor less (eq. 6)';
  if (most === Math.abs(free))
    return 'follows speed, air flow, count, height and gap of the elements, which are not in proportion (eq. 4)';
  return expansion < 0
    ? 'warmer air passes the elements faster (eq. 4)'
    : 'cooler air passes the elements more slowly (eq. 4)';
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
  'dust explosion protection: a larger volume is a new case for licensed practice; nothing of the small machine applies to it',
];
