import { dustWords } from '../../../answers/dust-words.ts';
import { words } from '../../../answers/text.ts';
import type { Warning } from '../../../model/parameters.ts';
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
