import type { Drawing, Frame } from '../drawing.ts';
import { DARK, LIGHT, type Theme } from '../theme.ts';
import { Slot } from './figure-slot.ts';
import { PaintQueue } from './paint-queue.ts';

/** Width of a figure on an A4 page, whole or half [px]. */
const PAPER_WIDTH = 660;
const HALF_PAPER = 320;
/** The same for a step of the lesson, whose style sheet enlarges it on paper. */
const STEP_PAPER = 560;
const HALF_STEP = 390;
/** The figure a moved setting is judged by: it is painted before all others. */
const FIRST = 'size-curve';

/** Draws the page's figures, those in view in the next frames. */
export class Stage {
  private readonly slots = new Map<string, Slot>();
  private readonly watcher: IntersectionObserver;
  private readonly dark = matchMedia('(prefers-color-scheme: dark)');
  private readonly queue = new PaintQueue();
  private printing = false;

  constructor() {
    this.watcher = new IntersectionObserver((entries) => this.seen(entries), { rootMargin: '300px 0px' });
    for (const figure of document.querySelectorAll<HTMLElement>('[data-figure]')) {
      const slot = new Slot(figure);
      this.slots.set(slot.id, slot);
      this.watcher.observe(figure);
    }
    this.dark.addEventListener('change', () => this.redraw());
    let width = innerWidth;
    addEventListener('resize', () => {
      if (innerWidth === width) return;
      width = innerWidth;
      this.redraw();
    });
    addEventListener('beforeprint', () => this.print(true));
    addEventListener('afterprint', () => this.print(false));
  }

  has(id: string): boolean {
    return this.slots.has(id);
  }

  /** The drawing a figure shows now. */
  drawingOf(id: string): Drawing | undefined {
    return this.slots.get(id)?.drawing;
  }

  /** What a figure shows now, drawn for another place, such as a file; undefined where it shows nothing. */
  drawnAs(id: string, frame: Frame): Drawing | undefined {
    return this.slots.get(id)?.draw?.(frame);
  }

  /** Place of a figure's plot in the page. */
  plotOf(id: string): HTMLElement | undefined {
    return this.slots.get(id)?.plot;
  }

  /** A moved setting's point is being solved: other figures let it pass. */
  awaitPoint(): void {
    this.queue.announce();
  }

  /** Draws a figure anew; one out of view is drawn when it comes into view. */
  show(id: string, draw: (frame: Frame) => Drawing): void {
    const slot = this.slots.get(id);
    if (!slot) return;
    slot.draw = draw;
    slot.stale = true;
    this.paint(slot);
  }

  /** Empties a figure: nothing of what it showed is left. */
  clear(id: string): void {
    this.queue.drop(id);
    this.slots.get(id)?.clear();
  }

  /** Colours the page shows now. */
  get theme(): Theme {
    return this.dark.matches && !this.printing ? DARK : LIGHT;
  }

  private paint(slot: Slot): void {
    if (!slot.near || this.printing) return;
    this.queue.add(slot.id, slot.id === FIRST, () => {
      if (slot.near && !this.printing) slot.paint(this.theme);
    });
  }

  private seen(entries: readonly IntersectionObserverEntry[]): void {
    for (const { target, isIntersecting } of entries) {
      const slot = this.slots.get((target as HTMLElement).dataset.figure!)!;
      slot.near = isIntersecting;
      if (isIntersecting && slot.stale) this.paint(slot);
    }
  }

  private redraw(): void {
    for (const slot of this.slots.values()) {
      slot.stale = true;
      this.paint(slot);
    }
  }

  /** On paper every figure is a still, light, at the width of the sheet. */
  private print(starts: boolean): void {
    this.printing = starts;
    for (const slot of this.slots.values()) {
      if (starts) {
        slot.paint(LIGHT, paperWidth(slot.figure));
      } else {
        slot.stale = true;
        this.paint(slot);
      }
    }
  }
}

function paperWidth({ parentElement, previousElementSibling }: HTMLElement): number {
  if (parentElement?.matches('.figures')) return parentElement.children.length > 1 ? HALF_STEP : STEP_PAPER;
  return parentElement?.matches('.pair') && previousElementSibling !== null ? HALF_PAPER : PAPER_WIDTH;
}
