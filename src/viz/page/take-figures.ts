import type { Table } from '../../answers/table.ts';
import type { Drawing } from '../drawing.ts';
import { sheetSvg } from '../svg/sheet.ts';
import { WHITE } from '../theme.ts';
import { element } from './dom.ts';
import { download, fileName } from './download.ts';
import type { Stage } from './stage.ts';

/** Pixels of a PNG to one of the page. */
const DENSITY = 2;
/** Width a figure is drawn for in a file [px]. */
const WIDTH = 760;

/**
 * Buttons under each figure that give it as SVG or PNG and its numbers as CSV.
 *
 * @param source says which case a figure shows and how far its numbers can be trusted
 */
export function offerFigures(stage: Stage, source: () => string): void {
  for (const figure of document.querySelectorAll<HTMLElement>('[data-figure]')) {
    const id = figure.dataset.figure!;
    const title = figure.querySelector('h3')?.textContent ?? 'Operating window';
    if (!stage.has(id)) continue;
    const svg = (drawing: Drawing) => sheetSvg({ title, source: source(), drawing });
    const give = (kind: string, how: (drawing: Drawing) => void) =>
      element(
        'button',
        {
          type: 'button',
          'aria-label': `${title} as ${kind}`,
          click: () => {
            const drawing = stage.drawnAs(id, { width: WIDTH, theme: WHITE });
            if (drawing) how(drawing);
          },
        },
        kind,
      );
    const place =
      figure.querySelector('.take') ?? figure.appendChild(element('div', { class: 'buttons take' }));
    place.append(
      give('SVG', (drawing) => download(`${id}.svg`, svg(drawing), 'image/svg+xml')),
      give('PNG', (drawing) => void givePng(id, svg(drawing))),
      give('CSV', ({ table }) => download(`${id}.csv`, csvOf(table), 'text/csv')),
    );
  }
}

/** A button under every table with a name that gives it as CSV; the numbers of figures have theirs. */
export function offerTables(): void {
  const taken = new Set<string>();
  for (const place of document.querySelectorAll<HTMLElement>('.scroll[aria-label]')) {
    const table = place.querySelector('table');
    const name = place.getAttribute('aria-label')!;
    if (!table || place.closest('figure') || taken.has(name) || name === 'Table') continue;
    taken.add(name);
    const give = () => download(`${fileName(name)}.csv`, csvOf(tableOf(table)), 'text/csv');
    const button = element('button', { type: 'button', 'aria-label': `${name} as CSV`, click: give }, 'CSV');
    place.after(element('div', { class: 'buttons take' }, button));
  }
}

/** What a table of the page says. */
function tableOf(table: HTMLTableElement): Table {
  const words = (row: HTMLTableRowElement) => [...row.cells].map((cell) => cell.textContent!.trim());
  const heads = table.tHead?.rows[0];
  const rows = [...table.tBodies].flatMap((body) => [...body.rows]).map(words);
  return { heads: heads ? words(heads) : [], rows };
}

async function givePng(id: string, svg: string): Promise<void> {
  const picture = new Image();
  picture.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  await picture.decode();
  const width = picture.naturalWidth * DENSITY;
  const height = picture.naturalHeight * DENSITY;
  const canvas = element('canvas', { width, height });
  const pen = canvas.getContext('2d')!;
  pen.fillStyle = WHITE.paper;
  pen.fillRect(0, 0, width, height);
  pen.drawImage(picture, 0, 0, width, height);
  canvas.toBlob((blob) => blob && download(`${id}.png`, blob, 'image/png'), 'image/png');
}

/** A table as CSV: comma between cells, quotes where a cell needs them. */
function csvOf({ heads, rows }: Table): string {
  const cell = (text: string) => (/[",\n]/.test(text) ? `"${text.split('"').join('""')}"` : text);
  return `${[heads, ...rows].map((row) => row.map(cell).join(',')).join('\n')}\n`;
}
