import { words } from '../../../answers/text.ts';
import { type Html, html } from '../../html/template.ts';

/** Longest title shown whole. */
const LONGEST = 160;
const LONGEST_NAME = 40;

/** Title, the job's own words, and where to find what. */
export function headSection(
  title: string,
  job: Readonly<Record<string, string>>,
  links: readonly (readonly [id: string, name: string])[],
): Html {
  const facts = Object.entries(job);
  return html`<header>
<h1><bdi>${words(title, LONGEST)}</bdi></h1>
${facts.length > 0 ? html`<dl class="facts">${facts.map(([name, value]) => html`<div><dt><bdi>${words(name, LONGEST_NAME)}</bdi></dt><dd><bdi>${words(value, LONGEST)}</bdi></dd></div>`)}</dl>` : undefined}
<nav aria-label="Sections">${links.map(([id, name]) => html`<a href="#${id}">${name}</a>`)}</nav>
</header>`;
}
