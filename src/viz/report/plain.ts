import type { Scenario } from '../../scenario/scenario.ts';

/** JSON in the data's own order that keeps infinities and NaN; `readPlainData` reads it. */
export function plainJson(value: unknown): string {
  return JSON.stringify(value, (_, item: unknown) =>
    typeof item === 'number' && !Number.isFinite(item) ? { number: String(item) } : item,
  );
}

/** A scenario as a page's model takes it: without the file's text and pictures. */
export function modelJson({ logo: _, ...scenario }: Scenario): string {
  return plainJson({ ...scenario, text: '' });
}
