import { type Html, html } from '../../html/template.ts';

/** How a report was made. */
export interface Made {
  readonly program: string;
  /** A caution on the version. */
  readonly note?: string;
  readonly hash?: string;
  readonly design: string;
  readonly date: string;
  /** Left out of a customer's report. */
  readonly scenarioText?: string;
}

export function madeSection({ program, note, hash, design, date, scenarioText }: Made): Html {
  const facts: [string, string][] = [
    ['program', program],
    ['made', date],
    ['design', design],
    ...(hash ? [['content hash', hash] as [string, string]] : []),
  ];
  return html`<section id="made">
<h2>How it was made</h2>
<dl class="facts">${facts.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>
${note === undefined ? undefined : html`<p class="note">${note}</p>`}
${
  scenarioText === undefined
    ? undefined
    : html`<details><summary>The scenario file</summary><pre tabindex="0"><code>${scenarioText}</code></pre></details>`
}
</section>`;
}
