/** Time a frame may spend on painting before the rest waits for the next [ms]. */
const BUDGET = 8;
/** Longest wait for what was announced [ms]. */
const PATIENCE = 80;

/** Something that waits to be painted: what is urgent goes first, the others in the order they came. */
interface Waiting {
  readonly urgent: boolean;
  readonly paint: () => void;
}

/** Paints what waits, once however often it was asked for, a little in each frame so that the page stays alive. */
export class PaintQueue {
  private readonly waiting = new Map<string, Waiting>();
  private frame: number | undefined;
  /** Until when nothing but the urgent is painted: it is on its way. */
  private held = 0;

  add(id: string, urgent: boolean, paint: () => void): void {
    this.waiting.delete(id);
    this.waiting.set(id, { urgent, paint });
    if (urgent) this.held = 0;
    this.ask();
  }

  drop(id: string): void {
    this.waiting.delete(id);
  }

  /** Something urgent is being computed: what else waits lets it pass. */
  announce(): void {
    this.held = performance.now() + PATIENCE;
  }

  private ask(): void {
    this.frame ??= requestAnimationFrame(() => this.run());
  }

  private run(): void {
    this.frame = undefined;
    const start = performance.now();
    do {
      const next = this.next(start);
      if (!next) break;
      const [id, { paint }] = next;
      this.waiting.delete(id);
      paint();
    } while (performance.now() - start < BUDGET);
    if (this.waiting.size > 0) this.ask();
  }

  private next(now: number): [string, Waiting] | undefined {
    const all = [...this.waiting];
    return all.find(([, { urgent }]) => urgent) ?? (now < this.held ? undefined : all[0]);
  }
}
