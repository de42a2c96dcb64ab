import { BLANK, type RunPlan, type RunSheet } from '../../answers/next/run-sheet-content.ts';
import { together } from '../../answers/text.ts';
import { tableHtml } from '../html/figure.ts';
import { type Html, html, lowered } from '../html/template.ts';

/** A run sheet as the body of a page that prints on one sheet of paper, with boxes for a pen. */
export function runSheetBody({ title, headline, asked, at, plan, cautions }: RunSheet): Html {
  return html`<header><h1>${title}</h1>${headline.map((line) => html`<p>${together(line)}</p>`)}
<p class="asked"><b>Required:</b> ${together(asked)}<br><b>at</b> ${together(at)}</p></header>
<main>${plan === undefined ? undefined : planHtml(plan)}
<section class="cautions"><h2>Cautions</h2>${cautions.map((line) => html`<p>${line}</p>`)}</section></main>`;
}

function planHtml({ boxes, airFlow, emptyAt, settings, readings, settles, stopRules }: RunPlan): Html {
  const blank = {
    ...readings,
    rows: readings.rows.map((row) => row.map((cell) => (cell === BLANK ? '' : cell))),
  };
  return html`<p class="boxes">${boxes.map(box)}<span>air flow ${airFlow}, read <i></i></span></p>
<section><h2>Empty mill first</h2>
<p class="boxes">No feed, warm up, then write ${emptyAt.map((rpm) => box(`kW at rotor ${rpm} rpm`))}${box('amps')}${box('out °C')}</p></section>
<section><h2>Runs, in this order</h2>${tableHtml(settings)}</section>
<section class="readings"><h2>Readings</h2>${tableHtml(blank)}</section>
<section><h2>What each run is to determine</h2><ul>${settles.map((line) => html`<li>${lowered(together(line))}</li>`)}</ul></section>
<section><h2>When to stop</h2>${stopRules.map((line) => html`<p>${line}</p>`)}</section>`;
}

function box(name: string): Html {
  return html`<span>${name} <i></i></span>`;
}
