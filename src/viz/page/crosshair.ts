import type { Drawing } from '../drawing.ts';
import { inverseOf, placesOf } from '../svg/place.ts';
import { element } from './dom.ts';
import { Tip } from './tip.ts';

/** A place on a plane of two factors, in the units shown. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

interface CrosshairCalls {
  /** The pointer or the keyboard rests on a spot; undefined where it left. Returns the words shown beside the spot. */
  readonly read: (spot: Spot | undefined) => string;
  /** Where the keyboard starts: the point pinned. */
  readonly pinned: () => Spot;
  readonly pin: (spot: Spot) => void;
}

/** Share of the range an arrow key moves by; with Shift a tenth of it. */
const STRIDE = 1 / 40;

/** Reads a plane by pointer and keyboard: a cross follows, click or Enter pins. */
export class Crosshair {
  private readonly layer: HTMLElement;
  private readonly cross: HTMLElement;
  private readonly calls: CrosshairCalls;
  private readonly drawing: () => Drawing | undefined;
  private readonly tip: Tip;
  private spot: Spot | undefined;
  private byKey = false;

  constructor(
    plot: HTMLElement,
    drawing: () => Drawing | undefined,
    described: string,
    calls: CrosshairCalls,
  ) {
    this.drawing = drawing;
    this.calls = calls;
    this.cross = element('div', { class: 'cross', hidden: true }, element('i'), element('i'));
    this.layer = element(
      'div',
      {
        class: 'reader',
        tabindex: 0,
        role: 'application',
        'aria-label':
          'Read the plane: arrow keys move the cross, Shift for small steps, Enter pins the point',
        'aria-describedby': described,
      },
      this.cross,
    );
    plot.after(this.layer);
    this.tip = new Tip(this.layer);
    this.layer.addEventListener('pointermove', (event) => {
      this.byKey = false;
      this.moveTo(this.spotAt(event));
    });
    this.layer.addEventListener('pointerleave', () => {
      // what is drawn below may push the plane from under a hand that rests
      if (!this.byKey) this.moveTo(undefined);
    });
    this.layer.addEventListener('click', (event) => this.pin(this.spotAt(event)));
    this.layer.addEventListener('keydown', (event) => this.key(event));
    this.layer.addEventListener('blur', () => this.moveTo(undefined));
  }

  /** Lays the reading area over the drawing's panel. */
  fit(): void {
    const place = this.place();
    if (!place) return;
    const { left, top, right, bottom } = place;
    Object.assign(this.layer.style, {
      left: `${left}px`,
      top: `${top}px`,
      width: `${right - left}px`,
      height: `${bottom - top}px`,
    });
    this.drawCross();
  }

  private place() {
    const drawing = this.drawing();
    return drawing && placesOf(drawing.layout)[0];
  }

  private spotAt(event: MouseEvent): Spot | undefined {
    const place = this.place();
    if (!place) return undefined;
    const box = this.layer.getBoundingClientRect();
    const { panel, left, right, top, bottom } = place;
    const x = inverseOf(panel.x, left, right)(left + event.clientX - box.left);
    const y = inverseOf(panel.y, bottom, top)(top + event.clientY - box.top);
    return this.within({ x, y });
  }

  private within({ x, y }: Spot): Spot {
    const { panel } = this.place()!;
    const clamp = (value: number, [from, to]: readonly [number, number]) =>
      Math.min(to, Math.max(from, value));
    return { x: clamp(x, panel.x.range), y: clamp(y, panel.y.range) };
  }

  private key(event: KeyboardEvent): void {
    const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowDown: [0, -1], ArrowUp: [0, 1] }[event.key];
    if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault();
      this.pin(this.spot);
      return;
    }
    const place = this.place();
    if (!step || !place) return;
    event.preventDefault();
    this.byKey = true;
    const { x, y } = place.panel;
    const size = event.shiftKey ? STRIDE / 10 : STRIDE;
    const from = this.spot ?? this.within(this.calls.pinned());
    const moved = {
      x: from.x + step[0]! * size * (x.range[1] - x.range[0]),
      y: from.y + step[1]! * size * (y.range[1] - y.range[0]),
    };
    this.moveTo(this.within(moved));
  }

  private moveTo(spot: Spot | undefined): void {
    this.spot = spot;
    this.drawCross();
    const words = this.calls.read(spot);
    const place = this.place();
    if (spot && place)
      this.tip.show(words, place.x(spot.x) - place.left, place.y(spot.y) - place.top, this.byKey);
    else this.tip.hide();
  }

  private pin(spot: Spot | undefined): void {
    if (spot) this.calls.pin(spot);
  }

  private drawCross(): void {
    const place = this.place();
    this.cross.hidden = !this.spot || !place;
    if (!this.spot || !place) return;
    this.cross.style.setProperty('--x', `${place.x(this.spot.x) - place.left}px`);
    this.cross.style.setProperty('--y', `${place.y(this.spot.y) - place.top}px`);
  }
}
