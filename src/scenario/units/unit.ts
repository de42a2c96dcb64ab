import type { Unit } from 'mathjs';
import { dimensionOf, sameBase } from './dimension.ts';
import { fromShown, isShownUnit, shownUnits, siUnitOf } from './display.ts';
import { kindOf } from './kinds.ts';
import { isolatedMath } from './mathjs.ts';
import { plainUnit } from './normalise.ts';
import { type Problem, problem } from './unit-problem.ts';

/** What a unit text means for values of one kind: SI = value · factor + offset. */
interface UnitMeaning {
  readonly factor: number;
  readonly offset: number;
  /** The unit as `display.ts` names it; undefined where the program cannot show it. */
  readonly shownIn: string | undefined;
  /** A frequency in Hz, which for a shaft says nothing without its drive. */
  readonly hertz: boolean;
}

const PURE: Readonly<Record<string, number>> = { '': 1, '%': 0.01, percent: 0.01, ppm: 1e-6, '1': 1 };
const ALIASES: Readonly<Record<string, string>> = { in: 'inch', percent: '%', l: 'L', tonne: 't', lbm: 'lb' };
const LONGEST_UNIT = 60;
const CACHED_UNITS = 2000;
const cache = new Map<string, UnitMeaning | Problem>();

/**
 * Meaning of a unit text where a value in `siUnit` is wanted.
 *
 * @param text as typed, e.g. `m³/h`
 * @param siUnit e.g. `m^3/s`
 * @returns the factor to SI, or the problem in words
 * @example unitMeaning('um', 'm') // { factor: 1e-6, offset: 0, shownIn: 'um', hertz: false }
 */
export function unitMeaning(text: string, siUnit: string): UnitMeaning | Problem {
  if (text.length > LONGEST_UNIT) return problem(`has a unit of ${text.length} characters`);
  const key = `${siUnit}|${text}`;
  const known = cache.get(key);
  if (known) return known;
  if (cache.size >= CACHED_UNITS) cache.clear();
  const meaning = readUnit(plainUnit(text), siUnit);
  cache.set(key, meaning);
  return meaning;
}

function readUnit(text: string, siUnit: string): UnitMeaning | Problem {
  if (siUnit === '1' && Object.hasOwn(PURE, text)) {
    return {
      factor: PURE[text]!,
      offset: 0,
      shownIn: ALIASES[text] ?? (text === '' ? '1' : text),
      hertz: false,
    };
  }
  // what the program shows it knows by itself: the library takes longer to load than a run
  const plain = shownUnit(text, siUnit);
  if (plain !== undefined) {
    const offset = fromShown(0, plain);
    return { factor: fromShown(1, plain) - offset, offset, shownIn: plain, hertz: text === 'Hz' };
  }
  if (/\btons?\b/.test(text))
    return problem('has the unit ton, of which there are three; write t (1000 kg) or lb');
  if (isShownUnit(text) && !sameBase(dimensionOf(siUnitOf(text)), dimensionOf(siUnit)))
    return otherKind(text, siUnit);
  const unit = parsed(text);
  if (!unit) return problem(`unknown unit ${text}${hint(text, siUnit)}`);
  const wanted = siUnit === '1' ? undefined : parsed(siUnit)!;
  const fits = wanted ? unit.equalBase(wanted) : unit.dimensions.every((power) => power === 0);
  if (!fits) return otherKind(text, siUnit);
  const offset = text === 'degC' || text === 'degF' ? siValue(0, text) : 0;
  const factor = siValue(1, text) - offset;
  return { factor, offset, shownIn: shownUnit(text, siUnit), hertz: /Hz/.test(text) };
}

function otherKind(text: string, siUnit: string): Problem {
  return problem(`must be ${kindOf(siUnit)}, but ${text} is not a unit of that kind${hint(text, siUnit)}`);
}

type OpenUnit = Unit & { readonly dimensions: readonly number[] };

function parsed(text: string): OpenUnit | undefined {
  try {
    return isolatedMath().unit(text.startsWith('1/') ? text : `1 ${text}`) as OpenUnit;
  } catch {
    return undefined;
  }
}

function siValue(value: number, text: string): number {
  const unit = isolatedMath().unit(text.startsWith('1/') ? text : `${value} ${text}`);
  return (unit.toSI() as unknown as { value: number }).value;
}

function shownUnit(text: string, siUnit: string): string | undefined {
  const name = Object.hasOwn(ALIASES, text) ? ALIASES[text]! : text;
  return isShownUnit(name) && siUnitOf(name) === siUnit ? name : undefined;
}

function hint(text: string, siUnit: string): string {
  const same = shownUnits().filter((name) => siUnitOf(name) === siUnit && name !== '1');
  if (siUnit === 'K' && /^[CF]$/.test(text)) return `; write deg${text}`;
  const spelt = same.find((name) => name.toLowerCase() === text.toLowerCase());
  if (spelt) return `; write ${spelt}`;
  return same.length > 0 ? `; write for example ${same.slice(0, 3).join(', ')}` : `; write it in ${siUnit}`;
}
