import { plainLine } from '../../escape.ts';
import { type Html, html } from '../../html/template.ts';

/** Longest title shown whole. */
const LONGEST = 160;

/** Title, the job's own words, and where to find what. */
export function headSection(
  title: string,
  job: Readonly<Record<string, string>>,
  links: readonly (readonly [id: string, name: string])[],
): Html {
  const facts = Object.entries(job);
  return html`<header>
<h1><bdi>${cut(title)}</bdi></h1>
${facts.length > 0 ? html`<dl class="facts">${facts.map(([name, value]) => html`<div><dt>${name}</dt><dd><bdi>${cut(value)}</bdi></dd></div>`)}</dl>` : undefined}
<nav aria-label="Sections">${links.map(([id, name]) => html`<a href="#${id}">${name}</a>`)}</nav>
</header>`;
}

function cut(text: string): string {
  const line = plainLine(text);
  return line.length > LONGEST ? `${line.slice(0, LONGEST - 1)}…` : line;
}
