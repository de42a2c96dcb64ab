import type { Solved } from '../../scenario/outcome/quantity.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { labelOf, formatNumber as n, formatQuantity as q, toShown } from '../../scenario/units/display.ts';
import { UNKNOWNS } from '../../search/scale/bands.ts';
import type { Limit } from '../../search/scale/limits.ts';
import { SAME_PRODUCT, type ScaledPoint } from '../../search/scale/scale.ts';
import type { Unscaled } from '../../search/scale/what-does-not-scale.ts';
import { label } from '../text.ts';
import { requirementWords } from '../words.ts';
import type { CarriedOver } from './scale-keys.ts';

/** Air per installed rotor power that is usual [m³/h per kW] (`practice`: notebooks/checked-from-outside.md). */
const USUAL_AIR = [90, 140] as const;

const percent = (share: number) => `${n(100 * share, 2)} %`;

/** Whether the other machine makes the product at some rate, which, and what limits it. */
export function scaleSentence({ scenario, other, scaled: { same, most, stoppedBy } }: CarriedOver): string {
  const name = label(other.machine.name, 60);
  if (!most) {
    const why = same
      ? `at the nearest, ${limitWords(scenario, stoppedBy)} is at ${n(100 * stoppedBy.use, 3)} % of its limit`
      : 'at every rate tried the mill chokes';
    return `${name} does not make this product within its limits at any rate tried: ${why}.`;
  }
  const rate = q(most.case.settings.feedRate, 'kg/h', 3);
  const stop = Number.isFinite(stoppedBy.use)
    ? `limited by ${limitWords(scenario, stoppedBy)}`
    : 'limited by choking';
  const fits =
    most.difference.worst <= SAME_PRODUCT
      ? 'the same product'
      : `the nearest product (different by ${percent(most.difference.worst)})`;
  return `${name} makes ${fits} at up to ${rate}, ${stop}: ${settingsWords(most.solved, most.bands)}.`;
}

/** A limit's name; a requirement of the spec in words. */
export function limitWords({ spec }: Scenario, { name }: Limit): string {
  const requirement = spec.find(({ text }) => text === name);
  return requirement ? requirementWords(requirement) : name;
}

function settingsWords({ case: c }: Solved, bands: ScaledPoint['bands']): string {
  const { settings } = c;
  return `rotor ${q(settings.rotorSpeed, 'rpm')} ± ${percent(bands.rotorSpeed)}, wheel ${label(c.wheelName)} ${q(settings.wheelSpeed, 'rpm')} ± ${percent(bands.wheelSpeed)}, air ${q(c.air.flow, 'm^3/h')}`;
}

/** How far product and settings are known, and from what spreads. */
export function bandSentences({ bands }: ScaledPoint): string[] {
  const within = (half: number) => `± ${percent(half)}`;
  return [
    `95 % bands: at the computed settings, x50 ${within(bands.x50)}, x95 ${within(bands.x95)}; if tuned until the product matches, wheel speed ${within(bands.wheelSpeed)}, rotor speed ${within(bands.rotorSpeed)}, rotor power ${within(bands.rotorPower)}.`,
    `They come from assumed uncertainties: ${UNKNOWNS.map(({ name, spread }) => `${name} ${n(100 * spread)} %`).join(', ')}.`,
  ];
}

/** One thing that is not the same although the product is. */
export function unscaledCells({ what, from, to, shownIn, why }: Unscaled): string[] {
  const unit = labelOf(shownIn);
  const value = (each: number) => `${n(toShown(each, shownIn), 3)}${unit === '' ? '' : ` ${unit}`}`;
  return [what, value(from), value(to), why];
}

/** What to look at: air that is unusual, a product that is not met, coefficients taken over. */
export function scaleNotes({ scaled, taken }: CarriedOver): string[] {
  const point = scaled.most ?? scaled.same;
  return [
    ...(point ? pointNotes(point) : []),
    ...(taken.length > 0
      ? [
          `${taken.length} coefficients are taken over from the first machine, as the other has none of its own`,
        ]
      : []),
  ];
}

function pointNotes({ case: c, difference }: ScaledPoint): string[] {
  const air = toShown(c.air.flow, 'm^3/h') / toShown(c.rotor.motor.power, 'kW');
  const [least, most] = USUAL_AIR;
  const usual = air >= least && air <= most;
  return [
    ...(usual
      ? []
      : [
          `${n(air, 3)} m³/h of air per installed kW; usual are ${least} to ${most}: check the fan, or give --air`,
        ]),
    ...(difference.worst > SAME_PRODUCT
      ? ['no speeds of this machine reproduce the whole curve; the nearest is shown']
      : []),
  ];
}
