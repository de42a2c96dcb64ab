import { DUST } from '../plant/safety/dust-data.ts';
import type { Scenario } from '../scenario/scenario.ts';

/** What of the dust was measured and what is an unknown hazard. */
export function dustWords({ blocks }: Scenario): string {
  const dust =
    (blocks.plant as { readonly dust?: Readonly<Record<string, unknown>> } | undefined)?.dust ?? {};
  const missing = DUST.filter(({ name }) => dust[name] === undefined).map(({ symbol }) => symbol);
  if (missing.length === 0)
    return 'Test values of the dust are stated: plant --safety compares the operating point with them.';
  const all =
    missing.length === DUST.length ? 'Nothing is stated of how this dust burns' : 'Not stated of this dust';
  return `${all}: ${missing.join(', ')} ${missing.length > 1 ? 'are' : 'is'} an unknown hazard. Treat it as explosible until tests on your own dust say otherwise.`;
}
