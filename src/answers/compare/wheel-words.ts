import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber, formatQuantity } from '../../scenario/units/display.ts';
import { OFF, overlap, type RangedNumber } from '../../search/compare/band.ts';
import { comparedAt, furthestApart, PERCENTILES } from '../../search/compare/compared.ts';
import type { Comparison } from '../../search/compare/comparison.ts';
import { SAME_PRODUCT } from '../../search/scale/scale.ts';
import { calibrationStanding } from '../../trials/calibration/calibration-standing.ts';
import { listed } from '../join-words.ts';
import { label, sentence } from '../text.ts';
import { nameInWords, pathInWords } from '../words.ts';
import { heldWords, type ReachedWheel, reachedWheels, rpm, targetUnit, targetWords } from './target-words.ts';

const percent = (share: number) => `${formatNumber(share * 100, 2)} %`;

/** What sharpness, bypass and leakage are, wherever wheels are judged. */
export const INPUTS =
  'Sharpness, bypass and leakage are inputs, not predictions; they must be measured (see grindloop grade).';

/** Said wherever geometry is judged: what was held. */
export const HELD =
  'Sharpness, bypass and leakage were held as given; in a real wheel the number, lean and thickness of the vanes change them too.';

/** What the comparison of wheels finds, in sentences; the first is the answer. */
export function wheelFindings(scenario: Scenario, comparison: Comparison): string[] {
  const able = reachedWheels(comparison);
  const missing = missingSentences(comparison);
  if (able.length === 0)
    return [`No wheel reaches ${targetWords(comparison)} at ${heldWords(scenario, comparison)}.`, ...missing];
  return [
    ...productSentences(comparison, able),
    ...sameWheelSentences(able),
    ...rankSentences(able.filter(({ sameAs }) => sameAs === undefined)),
    ...able.flatMap((wheel) => uncertainSentences(wheel, comparison)),
    ...able.flatMap((wheel) => crossingSentence(wheel, comparison)),
    ...able.flatMap(untriedSentence),
    ...heldRanges(scenario),
    ...missing,
    INPUTS,
  ];
}

/** A wheel at settings that no trial of the calibration covers. */
function untriedSentence({ name, matched }: ReachedWheel): string[] {
  const { outside } = calibrationStanding(matched.scenario);
  return outside.length > 0
    ? [`${sentence(label(name))} lies beyond the settings tried: ${outside.join('; ')}.`]
    : [];
}

/** Ranges that are not the wheels' own: they are the same for all, and the bands do not count them. */
function heldRanges({ uncertain, provenance }: Scenario): string[] {
  const held = Object.entries(uncertain).flatMap(([path, [low, high]]) =>
    path.startsWith('machine.wheels.') ? [] : [{ path, low, high, unit: provenance[path]?.unit ?? '1' }],
  );
  if (held.length === 0) return [];
  const [its, counts] = held.length > 1 ? ['their ranges', 'them'] : ['its range', 'it'];
  return [
    `Held at the middle of ${its} for all wheels, so that no band here counts ${counts}: ${listed(held.map(rangeWords))}.`,
  ];
}

/** Whether the products agree, in what they differ most, and why. */
function productSentences(comparison: Comparison, able: readonly ReachedWheel[]): string[] {
  const at = targetWords(comparison);
  if (able.length === 1) return [`Only the ${label(able[0]!.name)} wheel reaches ${at}.`];
  const apart = furthestApart(able.map(({ matched }) => comparedAt(matched, comparison.fines)));
  const speeds = able.map(({ matched }) => matched.speed);
  const differ = `wheel speed, ${rpm(Math.min(...speeds))} to ${rpm(Math.max(...speeds))} rpm, and in the power and pressure loss of the wheel`;
  const open = able.filter((wheel) => openProduct(wheel));
  const same = `x10, x50, x90 and x99 agree within ${percent(SAME_PRODUCT)}`;
  if (apart.share <= SAME_PRODUCT && open.length > 0) {
    return [
      `Matched at ${at}, it is not resolved whether all wheels give the same product: with each range at its middle ${same}. The wheels differ in ${differ}.`,
    ];
  }
  if (apart.share <= SAME_PRODUCT) {
    const equal =
      comparison.unequal.length === 0
        ? ' With equal sharpness, bypass and leakage, geometry acts through the cut alone.'
        : '';
    return [`Matched at ${at}, all wheels give the same product: ${same}. They differ in ${differ}.${equal}`];
  }
  const middles = open.length > 0 ? ', with each range at its middle' : '';
  const why =
    comparison.unequal.length > 0
      ? `The wheels are not given equal ${listed(comparison.unequal.map(nameInWords))}.`
      : `${label(comparison.target.quantity)} does not determine the product: wheels reach the same value at different finenesses.`;
  return [
    `Matched at ${at}, the products differ${middles}, most in ${apart.name}, by ${percent(apart.share)}. The wheels also differ in ${differ}. ${why}`,
  ];
}

/** Whether what is not known of a wheel leaves its product open by more than products may differ and still be the same. */
function openProduct({ bands, matched }: ReachedWheel): boolean {
  if (bands.ranged.length === 0) return false;
  const here = comparedAt(matched, 0);
  return PERCENTILES.some((name) => bands.of[name].high - bands.of[name].low > SAME_PRODUCT * here[name]);
}

function sameWheelSentences(able: readonly ReachedWheel[]): string[] {
  return able.flatMap(({ name, sameAs }) =>
    sameAs === undefined
      ? []
      : [
          `${sentence(label(name))} and ${label(sameAs)} are the same wheel: every number of theirs is equal.`,
        ],
  );
}

/** Wheels by the speed they need; those whose bands overlap with the next cannot be ranked. */
function rankSentences(able: readonly ReachedWheel[]): string[] {
  if (able.length < 2) return [];
  const order = [...able].sort((a, b) => a.matched.speed - b.matched.speed);
  const first = `Slowest wheel first: ${listed(order.map(({ name }) => label(name)))}.`;
  const groups = unresolvedGroups(order);
  if (groups.length === 0)
    return [`${first} The order holds with each cut coefficient ${OFF * 100} % off. ${HELD}`];
  const ranges = (group: readonly ReachedWheel[]) =>
    group.some(({ bands }) => bands.ranged.length > 0) ? ' and the ranges given' : '';
  return [
    first,
    ...groups.map(
      (group) =>
        `${sentence(listed(group.map(({ name }) => label(name))))} cannot be ranked: their ${group.length > 2 ? 'differences are' : 'difference is'} within a ${OFF * 100} % error of the cut coefficients${ranges(group)}.`,
    ),
    HELD,
  ];
}

/** Neighbours in the order whose bands overlap, joined while they do. */
function unresolvedGroups(order: readonly ReachedWheel[]): ReachedWheel[][] {
  const groups: ReachedWheel[][] = [];
  for (const wheel of order) {
    const group = groups.at(-1);
    const before = group?.at(-1);
    if (group && before && overlap(before.bands.of.speed, wheel.bands.of.speed)) group.push(wheel);
    else groups.push([wheel]);
  }
  return groups.filter((each) => each.length > 1);
}

/** What is open of a wheel: its ranges, what they leave open of its product, and whether it may not reach the target. */
function uncertainSentences(wheel: ReachedWheel, comparison: Comparison): string[] {
  const { name, bands, matched } = wheel;
  const { ranged, mayMiss, of } = bands;
  const here = comparedAt(matched, comparison.fines);
  const given = listed(ranged.map(rangeWords));
  const widest = PERCENTILES.reduce((most, each) =>
    (of[each].high - of[each].low) / here[each] > (of[most].high - of[most].low) / here[most] ? each : most,
  );
  const size = (value: number) => formatQuantity(value, 'um', 3);
  const product = openProduct(wheel)
    ? `, so its product is not resolved: ${widest} lies between ${size(of[widest].low)} and ${size(of[widest].high)}`
    : '';
  const open = ranged.length === 0 ? [] : [`The ${label(name)} wheel is given with ${given}${product}.`];
  if (mayMiss.length === 0) return open;
  return [
    ...open,
    `The ${label(name)} wheel may not reach ${targetWords(comparison)}: not with the least favourable ${listed(mayMiss.map(pathInWords))}.`,
  ];
}

function rangeWords({ path, low, high, unit }: RangedNumber): string {
  const text = (value: number) => formatQuantity(value, unit, 3);
  return `${pathInWords(path)} ${text(low)} to ${text(high)}`;
}

/** Other speeds at which a wheel has the target's value too. */
function crossingSentence({ name, matched }: ReachedWheel, comparison: Comparison): string[] {
  if (matched.alsoAt.length === 0) return [];
  const also = listed(matched.alsoAt.map((speed) => `${rpm(speed)} rpm`));
  return [
    `The ${label(name)} wheel has ${targetWords(comparison)} also at ${also}; shown is ${rpm(matched.speed)} rpm, where the product is nearest to that of the file's settings.`,
  ];
}

function missingSentences(comparison: Comparison): string[] {
  const unit = targetUnit(comparison.target);
  return comparison.wheels.flatMap(({ name, matched }) => {
    if (matched.reached) return [];
    const nearest = Number.isNaN(matched.nearest)
      ? ''
      : `, nearest ${formatQuantity(matched.nearest, unit, 3)}`;
    const why = {
      'top speed': 'below its highest speed',
      'chokes before': 'before the mill chokes',
      'coarser than asked at rest': 'however slowly it turns',
      'rotor too fast': 'as the rotor speed is above its maximum',
    }[matched.because];
    return [`The ${label(name)} wheel does not reach it ${why}${nearest} at ${rpm(matched.speed)} rpm.`];
  });
}
