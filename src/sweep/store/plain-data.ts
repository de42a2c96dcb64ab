/**
 * Plain data as JSON that keeps what JSON alone would lose: infinities and NaN become `{"number": "Infinity"}`, and an
 * object whose only key is `number` becomes `{"number": [its value]}`, so that a user's own key is never taken for one.
 * Keys come sorted, so that equal data has equal text.
 */
export function writePlainData(value: unknown): string {
  return JSON.stringify(value, (_, item: unknown) => {
    if (typeof item === 'number' && !Number.isFinite(item)) return { number: String(item) };
    if (typeof item !== 'object' || item === null || Array.isArray(item)) return item;
    if (isOnlyNumber(item)) return { number: [item.number] };
    return Object.fromEntries(Object.entries(item).sort(([a], [b]) => (a < b ? -1 : 1)));
  });
}

/** Reads what `writePlainData` wrote. */
export function readPlainData(text: string): unknown {
  return JSON.parse(text, (_, item: unknown) => {
    if (typeof item !== 'object' || item === null || !isOnlyNumber(item)) return item;
    if (typeof item.number === 'string') return Number(item.number);
    return Array.isArray(item.number) ? { number: item.number[0] } : item;
  });
}

function isOnlyNumber(item: object): item is { readonly number: unknown } {
  return 'number' in item && Object.keys(item).length === 1;
}
