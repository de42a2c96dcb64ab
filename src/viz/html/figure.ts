import type { Table } from '../../answers/table.ts';
import { together } from '../../answers/text.ts';
import type { Drawing, Frame } from '../drawing.ts';
import { writeSvg } from '../svg/write.ts';
import { PAGE } from '../theme.ts';
import { type Html, html, lowered, trusted } from './template.ts';

/** Room on a telephone 390 px wide [px]. */
const NARROW_WIDTH = 358;

/**
 * A figure's place in the page: drawn at once as SVG, taken over by the page's script where there is one. Drawn twice
 * where it is wide, so that its words can be read on a telephone too; the style sheet shows one.
 */
export function figureHtml(
  id: string,
  title: string | undefined,
  draw: (frame: Frame) => Drawing,
  width: number,
): Html {
  const drawing = draw({ width, theme: PAGE });
  const svgs = stillsOf(id, drawing, width > NARROW_WIDTH ? draw : undefined);
  return html`<figure class="figure" id="figure-${id}" data-figure="${id}">
${title === undefined ? undefined : html`<h3>${title}</h3>`}
<div class="canvas"><div class="plot" role="img" aria-label="${drawing.caption}">${svgs}</div></div>
<figcaption>${together(drawing.caption)}</figcaption>
${tableDetails(drawing.table, (title ?? id.split('-').join(' ')).toLowerCase())}
</figure>`;
}

function stillsOf(id: string, drawing: Drawing, narrow: ((frame: Frame) => Drawing) | undefined): Html {
  const wide = writeSvg(drawing, { theme: PAGE, id });
  if (!narrow) return trusted(wide);
  const small = writeSvg(narrow({ width: NARROW_WIDTH, theme: PAGE }), { theme: PAGE, id: `${id}-narrow` });
  return trusted(`<div class="wide">${wide}</div><div class="narrow">${small}</div>`);
}

/** The figure's numbers behind a toggle, whose name says which. */
function tableDetails(table: Table, name: string): Html {
  return html`<details class="numbers"><summary>Numbers: ${name}</summary>${tableHtml(table)}</details>`;
}

/** Heads of columns in which symbols stand. */
const SYMBOLS: ReadonlySet<string> = new Set(['symbol', 'meaning']);

/**
 * A table that scrolls by itself where it is wider than its place; numbers stand right.
 *
 * @param fails whether a cell tells of something that does not hold; it alone is coloured
 */
export function tableHtml(
  { heads, rows }: Table,
  caption?: string,
  fails: (row: readonly string[], column: number) => boolean = () => false,
): Html {
  const numeric = heads.map((_, c) => rows.length > 0 && rows.every((row) => isNumber(row[c] ?? '')));
  const cell = (text: string, c: number, row: readonly string[]) => {
    if (numeric[c]) return html`<td class="number">${text}</td>`;
    const marked = fails(row, c) ? html` class="fails"` : undefined;
    return html`<td${marked}><bdi>${SYMBOLS.has(heads[c]!) ? lowered(text) : together(text)}</bdi></td>`;
  };
  return html`<div class="scroll" tabindex="0" role="group" aria-label="${caption ?? 'Table'}"><table>
${caption ? html`<caption><span>${together(caption)}</span></caption>` : undefined}
<thead><tr>${heads.map((head, c) => html`<th scope="col"${numeric[c] ? html` class="number"` : undefined}>${together(head)}</th>`)}</tr></thead>
<tbody>${rows.map((row) => html`<tr>${row.map((text, c) => cell(text, c, row))}</tr>`)}</tbody>
</table></div>`;
}

/** Whether a cell holds a number, a range of two, or nothing. */
export function isNumber(text: string): boolean {
  return /^(?:[+−-]?(?:[\d.]+(?:e[+−-]?\d+)?|∞)(?: to [+−-]?[\d.]+)?|–)?$/.test(text);
}
