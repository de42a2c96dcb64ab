import { words } from '../../../answers/text.ts';
import type { Warning } from '../../../model/parameters.ts';
import { DUST } from '../../../plant/safety/dust-data.ts';
import type { Scenario } from '../../../scenario/scenario.ts';
import { type Html, html, lowered } from '../../html/template.ts';

/** Longest warning shown whole. */
const LONGEST = 800;

/**
 * What can hurt someone, what is not known of the dust, then what lies outside the model.
 *
 * @param scenario whose dust it is; none for the lesson, whose powder is invented
 */
export function cautionsSection(warnings: readonly Warning[], scenario?: Scenario): Html {
  return html`<section id="cautions">
<h2>Cautions</h2>
<p class="danger"><strong>Dust, rotating parts and vents can kill.</strong> These numbers are for screening only. Test your own dust; local codes and licensed practice decide. Missing data is an unknown hazard. Never pass the highest speed marked on a rotor or wheel; never open a mill that turns.</p>
${scenario ? html`<p>${lowered(dustWords(scenario))}</p>` : undefined}
${warnings.length > 0 ? html`<ul>${warnings.map(({ message }) => html`<li>${words(message, LONGEST)}</li>`)}</ul>` : INSIDE}
</section>`;
}

const INSIDE = html`<p>The point lies inside what the laws in use are said to cover. That says nothing about dust or machine.</p>`;

/** What of the dust was measured and what is an unknown hazard. */
function dustWords({ blocks }: Scenario): string {
  const dust =
    (blocks.plant as { readonly dust?: Readonly<Record<string, unknown>> } | undefined)?.dust ?? {};
  const missing = DUST.filter(({ name }) => dust[name] === undefined).map(({ symbol }) => symbol);
  if (missing.length === 0)
    return 'Test values of the dust are stated: plant --safety compares the operating point with them.';
  const all =
    missing.length === DUST.length ? 'Nothing is stated of how this dust burns' : 'Not stated of this dust';
  return `${all}: ${missing.join(', ')} ${missing.length > 1 ? 'are' : 'is'} an unknown hazard. Treat it as explosible until tests on your own dust say otherwise.`;
}
