import type { Answer } from '../../../answers/report-answer.ts';
import { together } from '../../../answers/text.ts';
import { tableHtml } from '../../html/figure.ts';
import { type Html, html } from '../../html/template.ts';

/**
 * One sentence to read out, what it relies on, what stands second, and the spec line by line.
 *
 * @param stands what the answer relies on
 * @param watch numeric limits to watch at the mill
 */
export function answerSection(
  { opening, sentence, second, spec }: Answer,
  stands: string,
  watch?: string,
): Html {
  const ranged = spec.some(({ range }) => range !== '');
  const heads = [
    'required',
    'met',
    'value',
    'margin',
    'limit',
    'unit',
    ...(ranged ? ['plausible range, 10 to 90 %', 'sets that meet it, %'] : []),
  ];
  const rows = spec.map((row) => [
    row.required,
    row.met ? 'yes' : 'no',
    row.got,
    row.margin,
    row.limit,
    row.unit,
    ...(ranged ? [row.range, row.probability] : []),
  ]);
  return html`<section id="answer" class="answer">
<h2>The answer</h2>
<p class="sentence"><span class="opening">${opening}</span> ${together(sentence)}</p>
<p class="stands">${together(stands)}</p>
${second.length > 0 ? html`<ul class="second">${second.map((line) => html`<li>${together(line)}</li>`)}</ul>` : undefined}
${spec.length > 0 ? tableHtml({ heads, rows }, 'The spec, requirement by requirement', (row) => row[1] === 'no') : undefined}
${watch === undefined ? undefined : html`<p class="watch">${together(watch)}</p>`}
</section>`;
}
