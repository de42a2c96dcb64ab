/**
 * Plain data as JSON that keeps what JSON alone would lose: infinities and NaN become `{"number": "Infinity"}`.
 * Keys come sorted, so that equal data has equal text.
 */
export function writePlainData(value: unknown): string {
  return JSON.stringify(value, (_, item: unknown) => {
    if (typeof item === 'number' && !Number.isFinite(item)) return { number: String(item) };
    if (typeof item !== 'object' || item === null || Array.isArray(item)) return item;
    return Object.fromEntries(Object.entries(item).sort(([a], [b]) => (a < b ? -1 : 1)));
  });
}

/** Reads what `writePlainData` wrote. */
export function readPlainData(text: string): unknown {
  return JSON.parse(text, (_, item: unknown) => {
    if (typeof item !== 'object' || item === null || Object.keys(item).length !== 1) return item;
    const number = (item as { number?: unknown }).number;
    return typeof number === 'string' ? Number(number) : item;
  });
}
