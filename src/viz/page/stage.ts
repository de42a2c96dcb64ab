import type { Drawing, Frame } from '../drawing.ts';
import { isNumber } from '../html/figure.ts';
import { writeSvg } from '../svg/write.ts';
import { DARK, LIGHT, type Theme } from '../theme.ts';
import { element } from './dom.ts';
import { PLOTLY_CONFIG, plotlySpec } from './plotly.ts';

/** What of the plotting library is used. */
interface Plotting {
  react(root: HTMLElement, data: unknown, layout: unknown, config: unknown): Promise<unknown>;
  purge(root: HTMLElement): void;
}

declare const Plotly: Plotting | undefined;

/** Width of a figure on an A4 page [px]. */
const PAPER_WIDTH = 660;
const HALF_PAPER = 320;

interface Slot {
  readonly figure: HTMLElement;
  readonly plot: HTMLElement;
  draw?: (frame: Frame) => Drawing;
  drawing?: Drawing;
  /** Near the visible part of the page. */
  near: boolean;
  plotted: boolean;
  stale: boolean;
}

/** Draws the page's figures: those in view by the plotting library, the others when they come into view. */
export class Stage {
  private readonly slots = new Map<string, Slot>();
  private readonly watcher: IntersectionObserver;
  private readonly dark = matchMedia('(prefers-color-scheme: dark)');
  private printing = false;

  constructor() {
    this.watcher = new IntersectionObserver((entries) => this.seen(entries), { rootMargin: '300px 0px' });
    for (const figure of document.querySelectorAll<HTMLElement>('[data-figure]')) {
      const plot = figure.querySelector<HTMLElement>('.plot')!;
      this.slots.set(figure.dataset.figure!, { figure, plot, near: false, plotted: false, stale: false });
      this.watcher.observe(figure);
      figure
        .querySelector('details')
        ?.addEventListener('toggle', () => this.refreshTable(figure.dataset.figure!));
    }
    this.dark.addEventListener('change', () => this.redraw());
    let width = innerWidth;
    addEventListener('resize', () => {
      if (innerWidth !== width) {
        width = innerWidth;
        this.redraw();
      }
    });
    addEventListener('beforeprint', () => this.print(true));
    addEventListener('afterprint', () => this.print(false));
  }

  get theme(): Theme {
    return this.dark.matches && !this.printing ? DARK : LIGHT;
  }

  has(id: string): boolean {
    return this.slots.has(id);
  }

  /** The drawing a figure shows now. */
  drawingOf(id: string): Drawing | undefined {
    return this.slots.get(id)?.drawing;
  }

  /** Place of a figure's plot in the page. */
  plotOf(id: string): HTMLElement | undefined {
    return this.slots.get(id)?.plot;
  }

  /** Draws a figure anew; one out of view is drawn when it comes into view. */
  show(id: string, draw: (frame: Frame) => Drawing): void {
    const slot = this.slots.get(id);
    if (!slot) return;
    slot.draw = draw;
    slot.stale = true;
    if (slot.near) this.paint(id, slot);
  }

  private seen(entries: readonly IntersectionObserverEntry[]): void {
    for (const { target, isIntersecting } of entries) {
      const id = (target as HTMLElement).dataset.figure!;
      const slot = this.slots.get(id)!;
      slot.near = isIntersecting;
      if (isIntersecting && slot.draw && (slot.stale || !slot.plotted)) this.paint(id, slot);
    }
  }

  private redraw(): void {
    for (const [id, slot] of this.slots) {
      slot.stale = true;
      if (slot.near && slot.draw) this.paint(id, slot);
    }
  }

  private paint(id: string, slot: Slot): void {
    const width = Math.floor(slot.plot.clientWidth);
    if (width < 50) return;
    const { theme } = this;
    const drawing = slot.draw!({ width, theme });
    slot.drawing = drawing;
    slot.stale = false;
    const caption = slot.figure.querySelector('figcaption')!;
    if (caption.textContent !== drawing.caption) {
      caption.textContent = drawing.caption;
      slot.plot.setAttribute('aria-label', drawing.caption);
    }
    if (typeof Plotly === 'undefined') {
      slot.plot.innerHTML = writeSvg(drawing, { theme, id }) ?? '';
    } else {
      if (!slot.plotted) slot.plot.replaceChildren();
      const { data, layout } = plotlySpec(drawing, theme);
      void Plotly.react(slot.plot, data, layout, PLOTLY_CONFIG);
    }
    slot.plotted = true;
    this.refreshTable(id);
    slot.figure.dispatchEvent(new CustomEvent('painted'));
  }

  /** Rewrites the numbers of a figure where they are open. */
  private refreshTable(id: string): void {
    const { figure, drawing } = this.slots.get(id)!;
    const details = figure.querySelector('details');
    const body = details?.querySelector('tbody');
    if (!details?.open || !body || !drawing) return;
    const heads = details.querySelectorAll('th');
    drawing.table.heads.forEach((head, i) => {
      if (heads[i]) heads[i].textContent = head;
    });
    body.replaceChildren(
      ...drawing.table.rows.map((row) =>
        element(
          'tr',
          {},
          ...row.map((cell) => element('td', isNumber(cell) ? { class: 'number' } : {}, cell)),
        ),
      ),
    );
  }

  /** On paper every figure is drawn once more, light, at the width of the sheet and without the plotting library. */
  private print(starts: boolean): void {
    this.printing = starts;
    for (const [id, slot] of this.slots) {
      if (!slot.draw) continue;
      if (starts) {
        if (slot.plotted && typeof Plotly !== 'undefined') Plotly.purge(slot.plot);
        const half =
          slot.figure.parentElement?.matches('.pair') && slot.figure.previousElementSibling !== null;
        const width = half ? HALF_PAPER : PAPER_WIDTH;
        slot.plot.innerHTML = writeSvg(slot.draw({ width, theme: LIGHT }), { theme: LIGHT, id }) ?? '';
        slot.plotted = false;
      } else if (slot.near) this.paint(id, slot);
    }
  }
}
