const SUPERSCRIPTS = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** Brings the many ways of typing one symbol to one: µ in both code points, m³, °C, the true minus, odd spaces. */
export function plainSymbols(text: string): string {
  return text
    .replace(/[\u00a0\u2000-\u200a\u202f\u3000]/g, ' ')
    .replace(/[−‐‑–]/g, '-')
    .replace(/[·⋅×]/g, '*')
    .replace(/≥/g, '>=')
    .replace(/≤/g, '<=')
    .replace(/℃|°\s?C\b/g, 'degC')
    .replace(/℉|°\s?F\b/g, 'degF')
    .replace(/°/g, 'deg')
    .replace(/[µμ](?=[A-Za-z])/g, 'u')
    .replace(/[µμ]/g, 'um')
    .replace(/⁻?[⁰¹²³⁴⁵⁶⁷⁸⁹]+/g, exponent)
    .trim();
}

function exponent(text: string): string {
  const digits = [...text].map((sign) => (sign === '⁻' ? '-' : String(SUPERSCRIPTS.indexOf(sign))));
  return `^${digits.join('')}`;
}

/** Unit text as the unit library reads it: `m3/h` → `m^3/h`, `micron` and `mu` → `um`. */
export function plainUnit(text: string): string {
  return plainSymbols(text)
    .replace(/\s+/g, ' ')
    .replace(/\b(microns?|mu)\b/g, 'um')
    .replace(/\brev\/min\b|\br\/min\b/g, 'rpm')
    .replace(/\b([A-Za-z]+)(-?[1-9])(?![\w^])/g, '$1^$2')
    .replace(/\s*([*/^()])\s*/g, '$1');
}
