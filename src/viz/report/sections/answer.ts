import { type Answer, specTable } from '../../../answers/report-answer.ts';
import { together } from '../../../answers/text.ts';
import { answerTable } from '../../html/answer-body.ts';
import { type Html, html } from '../../html/template.ts';

/**
 * One sentence to read out, what it relies on, what stands second, and the spec line by line.
 *
 * @param stands what the answer relies on
 * @param watch numeric limits to watch at the mill
 * @param measured what the runs of a log say of the spec, before what the model says
 */
export function answerSection(
  { opening, sentence, second, spec }: Answer,
  stands: string,
  watch?: string,
  measured: readonly string[] = [],
): Html {
  const [runs, ...more] = measured;
  return html`<section id="answer" class="answer">
<h2>The answer</h2>
${runs === undefined ? undefined : html`<p class="sentence">${together(runs)}</p>`}
${listOf(more)}
<p class="sentence${runs !== undefined && ' model'}"><span class="opening">${opening}</span> ${together(sentence)}</p>
<p class="stands">${together(stands)}</p>
${listOf(second)}
${spec.length > 0 ? answerTable(specTable(spec), 'The spec, requirement by requirement') : undefined}
${watch === undefined ? undefined : html`<p class="watch">${together(watch)}</p>`}
</section>`;
}

function listOf(lines: readonly string[]): Html | undefined {
  if (lines.length === 0) return undefined;
  return html`<ul class="second">${lines.map((line) => html`<li>${together(line)}</li>`)}</ul>`;
}
