import {
  type AnswerDocument,
  type AnswerTable,
  type Cell,
  cellText,
  columnHead,
  type FigureReference,
  type Section,
} from '../../answers/document.ts';
import { together } from '../../answers/text.ts';
import { FIGURES, type FigureName } from '../figures/index.ts';
import { headSection } from '../report/sections/head.ts';
import { figureHtml, isNumber } from './figure.ts';
import { type Html, html, lowered } from './template.ts';

/** Width figures are drawn for [px]. */
const WIDTH = 760;

/**
 * An answer as the body of a page that needs no script: every figure is a picture, its numbers behind a toggle.
 *
 * @param made how it was made, last
 * @param more parts of the page beyond the answer, before the cautions, each with its name among the links
 */
export function answerBody(
  document: AnswerDocument,
  made?: Html,
  more: { readonly html: Html; readonly links: readonly (readonly [string, string])[] } = NOTHING,
): Html {
  const { title, job = {}, sections, cautions, notes } = document;
  const links: (readonly [string, string])[] = [
    ['answer', 'Answer'],
    ...sections.map(({ id, heading }) => [id, heading] as const),
    ...more.links,
    ['cautions', 'Cautions'],
  ];
  return html`<a class="skip" href="#answer">To the answer</a>${headSection(title, job, links)}
<main class="document">${answerHtml(document)}
${sections.map(sectionHtml)}
${more.html}
<section id="cautions"><h2>Cautions</h2>${cautions.map((line) => html`<p class="danger">${lowered(line)}</p>`)}
${notes.length > 0 ? html`<h3>Notes</h3><ul>${notes.map((line) => html`<li>${lowered(together(line))}</li>`)}</ul>` : undefined}</section>
${made}</main>`;
}

const NOTHING = { html: html``, links: [] } as const;

function answerHtml({ opening, answer: [first = '', ...more] }: AnswerDocument): Html {
  return html`<section id="answer" class="answer"><h2>The answer</h2>
<p class="sentence">${opening ? html`<span class="opening">${opening}</span> ` : undefined}${lowered(together(first))}</p>
${more.length > 0 ? html`<ul class="second">${more.map((line) => html`<li>${lowered(together(line))}</li>`)}</ul>` : undefined}</section>`;
}

/** A part of an answer: what it says, its figures, its tables. */
export function sectionHtml({
  id,
  heading,
  sentences = [],
  figures = [],
  tables = [],
  tablesFirst = false,
  listing,
}: Section): Html {
  const drawn = figures.map(figureOf);
  const tabled = tables.map((table) => answerTable(table, heading));
  return html`<section id="${id}"><h2>${heading}</h2>
${sentences.map((line) => html`<p>${lowered(together(line))}</p>`)}
${tablesFirst ? [...tabled, ...drawn] : [...drawn, ...tabled]}
${listing === undefined ? undefined : html`<pre tabindex="0"><code>${listing}</code></pre>`}</section>`;
}

function figureOf({ id, title, figure, data }: FigureReference): Html {
  const known = FIGURES[figure as FigureName];
  if (!known) throw new RangeError(`no figure ${figure}`);
  return figureHtml(id, title, (frame) => known.draw(data as never, frame), WIDTH);
}

/** Share of numbers in a column from which it stands to the right. */
const MOSTLY = 0.6;
/** Characters of a cell from which a table is one of words: on a telephone its rows are stacked. */
const LONG = 60;

/** A table of an answer; only the cell that fails is coloured. */
export function answerTable({ caption, columns, rows, notes = [] }: AnswerTable, name: string): Html {
  const heads = columns.map(columnHead);
  const numeric = heads.map((_, c) => {
    const numbers = rows.filter((row) => isNumber(cellText(row[c] ?? ''))).length;
    return c > 0 && rows.length > 0 && numbers >= MOSTLY * rows.length;
  });
  const wordy = rows.some((row) => row.some((each) => cellText(each).length > LONG));
  const cell = (each: Cell, c: number): Html => {
    const style = [numeric[c] ? 'number' : '', typeof each !== 'string' && each.fails ? 'fails' : ''];
    const text = cellText(each);
    const about = wordy && c > 0 ? html` data-head="${heads[c]!}"` : undefined;
    const inside = numeric[c] ? text : html`<bdi>${lowered(together(text))}</bdi>`;
    const classes = style.filter(Boolean).join(' ');
    return c === 0
      ? html`<th scope="row"${classes && html` class="${classes}"`}>${inside}</th>`
      : html`<td${classes && html` class="${classes}"`}${about}>${inside}</td>`;
  };
  const head = (text: string, c: number): Html =>
    text === ''
      ? html`<td class="corner"></td>`
      : html`<th scope="col"${numeric[c] ? html` class="number"` : undefined}>${together(text)}</th>`;
  return html`<div class="scroll" tabindex="0" role="group" aria-label="${caption ?? name}"><table${wordy && html` class="wordy"`}>
${caption ? html`<caption><span>${together(caption)}</span></caption>` : undefined}
<thead><tr>${heads.map(head)}</tr></thead>
<tbody>${rows.map((row) => html`<tr>${row.map(cell)}</tr>`)}</tbody>
</table></div>${notes.map((line) => html`<p class="state">${together(line)}</p>`)}`;
}
