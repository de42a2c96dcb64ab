/** Rows as text in columns, each to the left, two blanks between; the last column is not padded. */
export function columnsOf(rows: readonly (readonly string[])[]): string {
  const widths: number[] = [];
  for (const row of rows) {
    for (const [i, cell] of row.entries()) widths[i] = Math.max(widths[i] ?? 0, width(cell));
  }
  const padded = (cell: string, i: number) => cell + ' '.repeat(widths[i]! - width(cell));
  return rows.map((row) => row.map(padded).join('  ').trimEnd()).join('\n');
}

/** Characters a text takes on a terminal: marks set over a letter take none. */
function width(text: string): number {
  return [...text.replace(/\p{Mn}/gu, '')].length;
}
