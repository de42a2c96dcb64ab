import { together } from '../../answers/text.ts';
import type { Drawing, Frame } from '../drawing.ts';
import { isNumber } from '../html/figure.ts';
import { writeSvg } from '../svg/write.ts';
import type { Theme } from '../theme.ts';
import { element } from './dom.ts';
import { FigureReader } from './figure-reader.ts';

/** How much larger the lesson's figures stand on a screen, and from what width on [px]. */
const LECTURE = 1.36;
const LECTURE_FROM = 420;

/** One figure's place in the page: its picture, what reads it by pointer and keyboard, its caption and its numbers. */
export class Slot {
  readonly figure: HTMLElement;
  readonly plot: HTMLElement;
  readonly id: string;
  draw?: (frame: Frame) => Drawing;
  drawing?: Drawing;
  /** Near the visible part of the page. */
  near = false;
  /** The drawing no longer shows the newest data. */
  stale = true;
  /** Width last seen, so that drawing need not lay out the page to ask for it. */
  private known = 0;
  private readonly still: HTMLElement;
  private readonly reader: FigureReader;

  constructor(figure: HTMLElement) {
    this.figure = figure;
    this.id = figure.dataset.figure!;
    this.plot = figure.querySelector<HTMLElement>('.plot')!;
    this.still = element('div', { class: 'still' });
    this.still.append(...this.plot.childNodes);
    this.plot.append(this.still);
    new ResizeObserver(([entry]) => {
      this.known = entry!.contentRect.width;
    }).observe(this.plot);
    const title = figure.querySelector('h3')?.textContent ?? 'the figure';
    this.reader = new FigureReader(this.plot.parentElement!, title.toLowerCase());
    figure.querySelector('details')?.addEventListener('toggle', () => this.writeTable());
  }

  /** Width there is for the figure [px]. */
  get width(): number {
    this.known ||= this.plot.clientWidth;
    return Math.floor(this.known);
  }

  /** How much larger than drawn the figure is shown: the lesson is read from the back row. */
  private get enlarged(): number {
    return this.width >= LECTURE_FROM && this.figure.closest('.lesson') !== null ? LECTURE : 1;
  }

  /** Empties the figure, its caption and its numbers. */
  clear(): void {
    delete this.draw;
    delete this.drawing;
    this.stale = false;
    this.still.replaceChildren();
    this.reader.clear();
    this.figure.querySelector('figcaption')!.textContent = '';
    this.figure.querySelector('tbody')?.replaceChildren();
    this.plot.setAttribute('aria-label', 'not drawn: there is no product');
  }

  /** Draws the picture. */
  paint(theme: Theme, paper?: number): void {
    const width = paper ?? this.width;
    if (!this.draw || width < 50) return;
    const drawing = this.draw({ width: Math.floor(width / (paper ? 1 : this.enlarged)), theme });
    this.drawing = drawing;
    this.stale = false;
    this.still.innerHTML = writeSvg(drawing, { theme, id: this.id });
    this.reader.take(
      drawing,
      paper ? Math.min(width, drawing.layout.width) : drawing.layout.width * this.enlarged,
    );
    const caption = this.figure.querySelector('figcaption')!;
    const words = together(drawing.caption);
    if (caption.textContent !== words) {
      caption.textContent = words;
      this.plot.setAttribute('aria-label', drawing.caption);
    }
    this.writeTable();
    this.figure.dispatchEvent(new CustomEvent('painted'));
  }

  /** Rewrites the numbers where they are open. */
  private writeTable(): void {
    const details = this.figure.querySelector('details');
    const body = details?.querySelector('tbody');
    if (!details?.open || !body || !this.drawing) return;
    const { heads, rows } = this.drawing.table;
    const head = details.querySelector('thead tr');
    const numeric = (c: number) => rows.length > 0 && rows.every((row) => isNumber(row[c] ?? ''));
    head?.replaceChildren(
      ...heads.map((each, c) =>
        element('th', { scope: 'col', class: numeric(c) ? 'number' : undefined }, each),
      ),
    );
    const cell = (text: string) => element('td', isNumber(text) ? { class: 'number' } : {}, together(text));
    body.replaceChildren(...rows.map((row) => element('tr', {}, ...row.map(cell))));
  }
}
