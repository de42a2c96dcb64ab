import type { Drawing } from '../drawing.ts';
import { nearestPoint, type ReadPoint, readPoints, steppedPoint } from '../svg/read-points.ts';
import { element } from './dom.ts';
import { Tip } from './tip.ts';

/** How far from a point a pointer still reads it [px]. */
const REACH = 40;
const KEYS: ReadonlySet<string> = new Set(['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', 'Home', 'End']);

/** Reads the points of one figure by pointer, touch and keyboard. */
export class FigureReader {
  private readonly layer: HTMLElement;
  private readonly ring = element('i', { class: 'ring', hidden: true });
  private readonly tip: Tip;
  private points: readonly ReadPoint[] = [];
  private at: ReadPoint | undefined;
  private scale = 1;

  constructor(canvas: HTMLElement, title: string) {
    this.layer = element('div', {
      class: 'points',
      tabindex: 0,
      role: 'application',
      'aria-label': `Read ${title}: arrow keys move from point to point and from line to line`,
      hidden: true,
    });
    canvas.append(this.layer);
    this.layer.append(this.ring);
    this.tip = new Tip(this.layer);
    this.layer.addEventListener('pointermove', (event) => this.point(event));
    this.layer.addEventListener('pointerdown', (event) => this.point(event));
    this.layer.addEventListener('pointerleave', () => this.read(undefined, false));
    this.layer.addEventListener('blur', () => this.read(undefined, false));
    this.layer.addEventListener('keydown', (event) => this.key(event));
  }

  /**
   * Takes over a new drawing.
   *
   * @param shown width at which it is shown [px]
   */
  take(drawing: Drawing, shown: number): void {
    this.points = readPoints(drawing);
    this.scale = shown / drawing.layout.width;
    this.layer.hidden = this.points.length === 0;
    this.layer.style.width = `${shown}px`;
    this.layer.style.height = `${drawing.layout.height * this.scale}px`;
    this.read(undefined, false);
  }

  /** Nothing is left to read. */
  clear(): void {
    this.points = [];
    this.layer.hidden = true;
    this.read(undefined, false);
  }

  private point(event: PointerEvent): void {
    const box = this.layer.getBoundingClientRect();
    const [left, top] = [event.clientX - box.left, event.clientY - box.top].map((each) => each / this.scale);
    this.read(nearestPoint(this.points, left!, top!, REACH), false);
  }

  private key(event: KeyboardEvent): void {
    if (event.key === 'Escape') this.read(undefined, true);
    if (!KEYS.has(event.key)) return;
    event.preventDefault();
    this.read(steppedPoint(this.points, this.at, event.key), true);
  }

  private read(point: ReadPoint | undefined, spoken: boolean): void {
    this.at = point;
    this.ring.hidden = !point;
    if (!point) {
      this.tip.hide();
      return;
    }
    const [left, top] = [point.left * this.scale, point.top * this.scale];
    this.ring.style.left = `${left}px`;
    this.ring.style.top = `${top}px`;
    this.tip.show(point.words, left, top, spoken);
  }
}
