/** Which sign parts the whole from the decimals. */
export type DecimalSign = 'point' | 'comma';

const NUMERIC = /^[<>≤≥]?\s*[+-]?(?:\d(?:[\d.,'’\u00a0\u202f ]*[\d.])?|[.,]\d+)(?:[eE][+-]?\d+)?\s*%?$/;
const THOUSANDS = { ',': /^[+-]?[1-9]\d{0,2}(,\d{3})+$/, '.': /^[+-]?[1-9]\d{0,2}(\.\d{3})+$/ } as const;

const FEW = 2;

/** Whether a cell holds a number in any locale, a % sign or a < allowed. */
export function isNumeric(cell: string): boolean {
  return NUMERIC.test(cell.trim());
}

/**
 * Decimal sign of a file, from all its numeric cells.
 *
 * A cell with both signs ends in its decimals; one sign that cannot part thousands (0,5 or 12,34) is decimal.
 *
 * @returns the sign, or undefined where every number could be read both ways (1,234), or both signs stand in the file
 * @example decimalSign(['0,296', '1,318']) // 'comma'
 */
export function decimalSign(cells: readonly string[]): DecimalSign | undefined {
  let comma = 0;
  let point = 0;
  let doubtful = false;
  for (const raw of cells) {
    const cell = raw.trim().replace(/[<>≤≥%\s]/g, '');
    const lastComma = cell.lastIndexOf(',');
    const lastPoint = cell.lastIndexOf('.');
    if (lastComma < 0 && lastPoint < 0) continue;
    if (lastComma >= 0 && lastPoint >= 0) {
      if (lastComma > lastPoint) comma++;
      else point++;
    } else if (lastComma >= 0) {
      if (THOUSANDS[','].test(cell)) doubtful = true;
      else comma++;
    } else if (THOUSANDS['.'].test(cell)) doubtful = true;
    else point++;
  }
  if (comma > 0 && point > 0) {
    // a few cells of the other notation are bad cells, to be named; a file of both is asked about
    if (comma >= FEW * point) return 'comma';
    return point >= FEW * comma ? 'point' : undefined;
  }
  if (comma > 0) return 'comma';
  if (point > 0 || !doubtful) return 'point';
  return undefined;
}

/**
 * Number of a cell; NaN where the cell holds none, or one of the other notation.
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
  const [sign, thousands] = decimal === 'comma' ? [',', '.'] : ['.', ','];
  if (!plain.includes(thousands!)) return Number(plain.replace(sign!, '.'));
  // a sign between thousands parts groups of three; any other is a number of the other notation, and none here
  const at = plain.indexOf(sign!);
  const [head, tail] = at < 0 ? [plain, ''] : [plain.slice(0, at), `.${plain.slice(at + 1)}`];
  if (!THOUSANDS[thousands as ',' | '.'].test(head!)) return Number.NaN;
  return Number(head!.replaceAll(thousands!, '') + tail!);
}
