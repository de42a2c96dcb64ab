import type { Parameter } from '../../model/parameters.ts';
import type { Requirement } from '../expression/expression.ts';
import { formatQuantity, isShownUnit } from '../units/display.ts';
import { FEED_RATE } from './feed-rate.ts';
import { questionOf } from './likely-slip.ts';
import type { Node } from './node.ts';
import { type Context, fault, question } from './reading-context.ts';
import { type Bound, boundOf } from './spec-bound.ts';
import { sizeBounds } from './spec-size-bounds.ts';

/** Shares of a whole: from 0 to 100 %. */
const SHARES = new Set([
  'passing',
  'oversize',
  'outletHumidity',
  'cycloneYield',
  'productHumidity',
  'storedHumidity',
  'bypass',
  'sharpness',
]);
/** Ratios people write in percent and that may pass 100 %. */
const RATIOS = new Set([
  'motorLoad',
  'wheelMotorLoad',
  'rotorSpeedUse',
  'wheelSpeedUse',
  'fanSpeed',
  'fanMotorLoad',
  'feederUse',
  'airlockUse',
  'feedMargin',
  'humidityMargin',
]);
/** Differences and balances, which may be negative. */
const SIGNED = /Margin$|^massClosure$|Temperature$|^dewPoint$/;
/** From here a ratio without its % is one that forgot it. */
const LARGEST_BARE_RATIO = 1.5;
/** A required share this small, with its %, is taken for a fraction typed with a %. */
const FRACTION_WITH_PERCENT = 0.01;
/** Limits found in practice (SI, from memory): beyond them a unit or a point slipped. */
const USUAL_LIMITS: Readonly<Record<string, Parameter['usual']>> = {
  m: { low: 0.2e-6, high: 5e-3 },
  'kg/s': FEED_RATE.usual,
  'J/kg': { low: 1800, high: 1.8e7 },
  K: { low: 253.15, high: 423.15 },
  W: { low: 20, high: 5e6 },
};

/** What the check needs to know of a quantity. */
interface QuantityKind {
  readonly name: string;
  readonly unit: string;
  readonly shownIn: string;
}

/** A requirement with its place in the file. */
export interface PlacedRequirement {
  readonly requirement: Requirement;
  readonly node: Node | undefined;
  readonly place: string;
}

/**
 * Faults and questions of a spec as a whole: shares without % or above 100 %, limits below zero, requirements that are
 * always met, never met, or contradict one another.
 *
 * @param common requirements that stand beside them and are checked by themselves
 */
export function checkSpecSense(
  context: Context,
  lines: readonly PlacedRequirement[],
  quantities: readonly QuantityKind[],
  common: readonly PlacedRequirement[] = [],
): void {
  const sound: { readonly bound: Bound; readonly line: PlacedRequirement }[] = common.flatMap((line) => {
    const bound = boundOf(line.requirement);
    return bound && nonsense(line.requirement, quantities) === undefined ? [{ bound, line }] : [];
  });
  const known = sound.length;
  for (const line of lines) {
    const wrong = nonsense(line.requirement, quantities);
    if (wrong !== undefined) fault(context, line.node, line.place, wrong);
    const bound = boundOf(line.requirement);
    if (wrong !== undefined || !bound) continue;
    question(context, line.node, line.place, oddLimit(bound, quantities));
    sound.push({ bound, line });
  }
  for (const [i, later] of sound.entries()) {
    if (i < known) continue;
    const earlier = sound.slice(0, i).find(({ bound }) => contradict(bound, later.bound));
    if (!earlier) continue;
    const words = `contradicts "${earlier.bound.requirement.text}": no product meets both; change one of them`;
    fault(context, later.line.node, later.line.place, words);
  }
}

function nonsense(requirement: Requirement, quantities: readonly QuantityKind[]): string | undefined {
  const { left, right, text } = requirement;
  if (JSON.stringify(left) === JSON.stringify(right)) return 'compares a quantity with itself; name a limit';
  const bound = boundOf(requirement);
  if (!bound) return undefined;
  const { name, atLeast, limit } = bound;
  if (SHARES.has(name)) return shareNonsense(bound, hasPercent(text));
  if (RATIOS.has(name) && !hasPercent(text) && limit > LARGEST_BARE_RATIO)
    return `has no %; write ${withPercent(text)}`;
  const unit = unitOf(name, quantities);
  if (SIGNED.test(name) || unit === undefined) return undefined;
  if (limit < 0) return `the limit is below 0, which ${name} never is; write a positive limit`;
  if (limit > 0) return undefined;
  return atLeast
    ? `is always met: ${name} is never below 0; remove it or raise the limit`
    : `can never be met: ${name} is above 0`;
}

function shareNonsense({ requirement, name, atLeast, limit }: Bound, percent: boolean): string | undefined {
  const { text } = requirement;
  if (limit > 1 && !percent) return `has no %; write ${withPercent(text)}`;
  if (limit > 1) return `${name} cannot be above 100 %, the limit is ${formatQuantity(limit, '%')}`;
  if (limit < 0) return `${name} cannot be below 0 %, the limit is ${formatQuantity(limit, '%')}`;
  const always = atLeast ? limit === 0 : limit === 1;
  return always ? `is always met: ${name} is between 0 and 100 %; remove it or change the limit` : undefined;
}

function oddLimit(bound: Bound, quantities: readonly QuantityKind[]): string | undefined {
  const { requirement, name, argument, limit, atLeast } = bound;
  const { text, shownIn } = requirement;
  if (SHARES.has(name) || RATIOS.has(name)) {
    if (!hasPercent(text)) return `has no %: the limit is read as ${formatQuantity(limit, '%')}`;
    if (atLeast && limit > 0 && limit <= FRACTION_WITH_PERCENT)
      return `the limit is read as ${formatQuantity(limit, '%')}; did you mean ${formatQuantity(100 * limit, '%')}?`;
    return argument === undefined || !/passing|oversize/.test(name) ? undefined : oddSize(argument);
  }
  const quantity = quantities.find((one) => one.name === name);
  const unit = unitOf(name, quantities);
  const absolute = quantity === undefined || quantity.shownIn === 'degC' || unit !== 'K';
  const usual = unit === undefined || !absolute ? undefined : USUAL_LIMITS[unit];
  if (!usual || !isShownUnit(shownIn)) return undefined;
  const parameter = {
    name,
    symbol: name,
    unit: unit!,
    shownIn: quantity?.shownIn ?? 'um',
    meaning: name,
    usual,
  };
  const words = questionOf('', limit, shownIn, parameter);
  // a limit typed in a unit that is not shown says nothing of the slip
  return text.includes(shownIn) ? words : words?.replace(/; did you mean .*$/, '');
}

/** A size in brackets that no product is judged at. */
function oddSize(size: number): string | undefined {
  const usual = USUAL_LIMITS.m!;
  const shownIn = size >= 1e-3 ? 'mm' : 'um';
  return questionOf('', size, shownIn, {
    name: 'size',
    symbol: 'x',
    unit: 'm',
    shownIn: 'um',
    meaning: 'size',
    usual,
  });
}

function unitOf(name: string, quantities: readonly QuantityKind[]): string | undefined {
  return quantities.find((one) => one.name === name)?.unit ?? (/^x\d/.test(name) ? 'm' : undefined);
}

function hasPercent(text: string): boolean {
  return /%|percent|ppm/.test(text.replace(/\([^)]*\)/g, ''));
}

/** The text with a % behind its limit. */
function withPercent(text: string): string {
  const [before, after] = text.split(/(?<=[<>]=?)(?![=])/);
  if (after === undefined) return `${text} %`;
  return /\d\s*$/.test(after) && !/[A-Za-z]/.test(after)
    ? `${text.trim()} %`
    : `${before!.replace(/\s*([<>]=?)$/, ' % $1')}${after}`;
}

/** Whether no value and no size curve meets both. */
function contradict(a: Bound, b: Bound): boolean {
  if (a.name === b.name && a.argument === b.argument && a.atLeast !== b.atLeast) {
    const [lower, upper] = a.atLeast ? [a, b] : [b, a];
    if (lower.limit > upper.limit) return true;
  }
  const bounds = [...sizeBounds(a), ...sizeBounds(b)];
  return bounds.some(
    (low) =>
      low.atLeast && bounds.some((high) => !high.atLeast && low.size <= high.size && low.share > high.share),
  );
}
