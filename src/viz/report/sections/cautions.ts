import type { Warning } from '../../../model/parameters.ts';
import { words } from '../../escape.ts';
import { type Html, html } from '../../html/template.ts';

/** Longest warning shown whole. */
const LONGEST = 800;

/** What can hurt someone, then what lies outside the model. */
export function cautionsSection(warnings: readonly Warning[]): Html {
  return html`<section id="cautions">
<h2>Cautions</h2>
<p class="danger"><strong>Dust, rotating parts and vents can kill.</strong> These numbers are for screening only. Test your own dust; local codes and licensed practice decide. Missing data is an unknown hazard. Never pass the highest speed marked on a rotor or wheel.</p>
${
  warnings.length > 0
    ? html`<ul>${warnings.map(({ message }) => html`<li>${words(message, LONGEST)}</li>`)}</ul>`
    : html`<p>The recommended point lies inside what the laws in use are said to cover.</p>`
}
</section>`;
}
