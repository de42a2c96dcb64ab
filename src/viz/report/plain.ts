/** JSON in the data's own order that keeps infinities and NaN; `readPlainData` reads it. */
export function plainJson(value: unknown): string {
  return JSON.stringify(value, (_, item: unknown) =>
    typeof item === 'number' && !Number.isFinite(item) ? { number: String(item) } : item,
  );
}
