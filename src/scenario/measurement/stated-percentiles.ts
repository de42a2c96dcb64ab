import { type DecimalSign, parseNumber } from './cell-number.ts';
import type { SizeUnit } from './measured-sample.ts';

/** A percentile as a file states it, in the unit it is written in. */
export interface StatedPercentile {
  /** Q, 0…1. */
  readonly share: number;
  readonly size: number;
  readonly unit?: SizeUnit;
}

/** d10, D50, x90, x50,3, Dv50, D(v,0.5), d(0.5), DV(90), D[v; 0,1], x(10 %) — but not the moments D32 and D[4,3]. */
const NAME =
  /^[dx]\s*[[({]?\s*_?(?:v|w|m|3)?\s*[[(,;_ ]*\s*(0?[.,]\d{1,4}|\d{1,2}(?:[.,]\d{1,2})?)\s*%?\s*(?:,\s*[03])?\s*[\])}]*$/i;
const MOMENT = /^[dx]\s*[[({]?\s*(?:32|43|3\s*[,;.]\s*2|4\s*[,;.]\s*3)\s*[\])}]?$/i;
/** x50,3: the share, then the basis by its ISO 9276 index. */
const BASIS_SUFFIX = /^([dx]\s*\d{2}),\s*[03]$/i;
const UNIT = /(nm|[µμu]m|microns?|mm)/i;

/**
 * Share a percentile's name stands for.
 *
 * @returns 0…1, or undefined where the text is no percentile
 * @example percentileShare('D(v,0.5)') // 0.5
 */
export function percentileShare(text: string): number | undefined {
  const name = text
    .replace(/\s*[[(/]?\s*(?:nm|[µμu]m|microns?|mm)\s*[\])]?\s*$/i, '')
    .replace(/[:=]\s*$/, '')
    .trim();
  if (MOMENT.test(name)) return undefined;
  const digits = NAME.exec(name.replace(BASIS_SUFFIX, '$1'))?.[1];
  if (!digits) return undefined;
  const value = Number(digits.replace(',', '.'));
  const share = /^0?[.,]/.test(digits) ? value : value / 100;
  return share > 0 && share < 1 ? share : undefined;
}

/** Unit named in a percentile's text, if any. */
export function unitIn(text: string): SizeUnit | undefined {
  const word = UNIT.exec(text)?.[1]?.toLowerCase();
  if (!word) return undefined;
  return word === 'nm' || word === 'mm' ? word : 'um';
}

const LINE =
  /(?:^|[\s,;\t"|])([dxDX]\s?(?:[[({][^\])}]{1,8}[\])}]|[vwm]?\s?\(?\d{1,2}(?:[.,]\d)?\)?(?:,3)?))(\s*[[(/]?\s*(?:nm|[µμu]m|mm)\s*[\])]?)?"?\s*[:=;,\t| ]\s*"?(\d[\d.,]*\d|\d)"?\s*[;,\t| ]?\s*(nm|[µμu]m|microns?|mm)?(?![a-z\d])/g;

/** Percentiles stated anywhere in a line of text, e.g. `D(v,0.1) = 12.3 µm`. */
export function percentilesIn(line: string, decimal: DecimalSign): StatedPercentile[] {
  const found: StatedPercentile[] = [];
  for (const match of line.matchAll(LINE)) {
    const share = percentileShare(match[1]!);
    if (share === undefined) continue;
    const unit = unitIn(`${match[2] ?? ''} ${match[4] ?? ''}`);
    const size = parseNumber(match[3]!, decimal);
    if (size > 0) found.push({ share, size, ...(unit ? { unit } : {}) });
  }
  return found;
}
