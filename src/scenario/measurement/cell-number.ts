/** Which sign parts the whole from the decimals. */
export type DecimalSign = 'point' | 'comma';

const NUMERIC = /^[<>≤≥]?\s*[+-]?(?:\d(?:[\d.,'’\u00a0\u202f ]*[\d.])?|[.,]\d+)(?:[eE][+-]?\d+)?\s*%?$/;
const THOUSANDS = { ',': /^[+-]?[1-9]\d{0,2}(,\d{3})+$/, '.': /^[+-]?[1-9]\d{0,2}(\.\d{3})+$/ } as const;

/** Whether a cell holds a number in any locale, a % sign or a < allowed. */
export function isNumeric(cell: string): boolean {
  return NUMERIC.test(cell.trim());
}

/**
 * Decimal sign of a file, from all its numeric cells.
 *
 * A cell with both signs ends in its decimals; one sign that cannot part thousands (0,5 or 12,34) is decimal.
 *
 * @returns the sign, or undefined where every number could be read both ways (1,234)
 * @example decimalSign(['0,296', '1,318']) // 'comma'
 */
export function decimalSign(cells: readonly string[]): DecimalSign | undefined {
  let comma = false;
  let point = false;
  let doubtful = false;
  for (const raw of cells) {
    const cell = raw.trim().replace(/[<>≤≥%\s]/g, '');
    const lastComma = cell.lastIndexOf(',');
    const lastPoint = cell.lastIndexOf('.');
    if (lastComma < 0 && lastPoint < 0) continue;
    if (lastComma >= 0 && lastPoint >= 0) {
      if (lastComma > lastPoint) comma = true;
      else point = true;
    } else if (lastComma >= 0) {
      if (THOUSANDS[','].test(cell)) doubtful = true;
      else comma = true;
    } else if (THOUSANDS['.'].test(cell)) doubtful = true;
    else point = true;
  }
  if (comma && point) return undefined;
  if (comma) return 'comma';
  if (point || !doubtful) return 'point';
  return undefined;
}

/**
 * Number of a cell; NaN where the cell holds none.
 *
 * @example parseNumber('1.234,5 %', 'comma') // 1234.5
 */
export function parseNumber(cell: string, decimal: DecimalSign): number {
  const plain = cell
    .trim()
    .replace(/^[<>≤≥]/, '')
    .replace(/%$/, '')
    .replace(/['’\u00a0\u202f\s]/g, '');
  if (plain === '') return Number.NaN;
  const point = decimal === 'comma' ? plain.replace(/\./g, '').replace(',', '.') : plain.replace(/,/g, '');
  return Number(point);
}
