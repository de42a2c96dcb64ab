import type { StatePart } from './address.ts';

/** One step after the other for a lecture: keys, buttons, full screen with one step at a time. */
export class Presenter implements StatePart {
  private readonly ids: readonly string[];
  private readonly reset: (step: number) => void;
  private readonly bar = document.querySelector<HTMLElement>('.present')!;
  private at = 0;
  private changed = () => {};
  /** Led here by a key, a button or the address: the page holds this step until it is scrolled by hand. */
  private led = false;

  /** @param reset what brings a step's sliders back */
  constructor(ids: readonly string[], reset: (step: number) => void) {
    this.ids = ids;
    this.reset = reset;
    this.bar.hidden = false;
    this.bar.addEventListener('click', (event) => this.press(event.target as HTMLElement));
    document.addEventListener('keydown', (event) => this.key(event));
    document.addEventListener('fullscreenchange', () => this.full(document.fullscreenElement !== null));
    addEventListener('scroll', () => this.follow(), { passive: true });
    for (const byHand of ['wheel', 'touchmove', 'pointerdown'] as const)
      addEventListener(byHand, () => this.byHand(), { passive: true });
    this.mark();
  }

  read(): Readonly<Record<string, string>> {
    return this.at === 0 ? {} : { step: this.ids[this.at]! };
  }

  write({ step }: Readonly<Record<string, string>>): void {
    const asked = this.ids.indexOf(step ?? '');
    if (asked < 0 || asked === this.at) return;
    this.at = asked;
    this.led = true;
    this.mark();
    this.section(asked).scrollIntoView({ behavior: 'auto' });
  }

  onChange(listener: () => void): void {
    this.changed = listener;
  }

  private section(k: number): HTMLElement {
    return document.getElementById(this.ids[k]!)!;
  }

  private press(target: HTMLElement): void {
    const { go, reset, full } = target.dataset;
    if (go !== undefined) this.go(this.at + Number(go));
    if (reset !== undefined) this.reset(this.at);
    if (full !== undefined) this.toggle();
  }

  private key(event: KeyboardEvent): void {
    const { key, ctrlKey, metaKey, altKey } = event;
    const target = event.target as Element;
    if (ctrlKey || metaKey || altKey) return;
    const own = target.matches?.('input, .points, .scroll');
    if (!own && (key === 'ArrowRight' || key === 'PageDown')) this.go(this.at + 1);
    else if (!own && (key === 'ArrowLeft' || key === 'PageUp')) this.go(this.at - 1);
    else if (key === 'f' || key === 'F') this.toggle();
    else if (key === 'r' || key === 'R') this.reset(this.at);
    else {
      // any other key may scroll the page
      this.byHand();
      return;
    }
    event.preventDefault();
  }

  private go(k: number): void {
    if (k < 0 || k >= this.ids.length) return;
    this.at = k;
    this.led = true;
    this.mark();
    this.section(k).scrollIntoView({ behavior: 'auto' });
    this.changed();
  }

  private toggle(): void {
    if (document.fullscreenElement) void document.exitFullscreen();
    else void document.documentElement.requestFullscreen();
  }

  private full(on: boolean): void {
    document.documentElement.toggleAttribute('data-presenting', on);
    this.section(this.at).scrollIntoView({ behavior: 'auto' });
  }

  private byHand(): void {
    this.led = false;
  }

  /** Scrolled by hand, the step at the top is the current one; figures drawn late move the page too, but no step. */
  private follow(): void {
    if (document.fullscreenElement || this.led) return;
    const tops = this.ids.map((_, k) => this.section(k).getBoundingClientRect().top);
    const k = Math.max(0, tops.filter((top) => top < innerHeight / 2).length - 1);
    if (k === this.at) return;
    this.at = k;
    this.mark();
    this.changed();
  }

  private mark(): void {
    this.ids.forEach((_, k) => {
      this.section(k).toggleAttribute('data-current', k === this.at);
    });
    this.bar.querySelector('.where')!.textContent = `Step ${this.at + 1} of ${this.ids.length}`;
  }
}
