import { whenQuiet } from './dom.ts';

/** A part of the page's state, as text by name; a name left out stands as at first. */
export interface StatePart {
  read(): Readonly<Record<string, string>>;
  write(state: Readonly<Record<string, string>>): void;
  onChange(listener: () => void): void;
}

/** Rest after which a move becomes a state of its own to go back to [ms]. */
const REST = 400;
/** What marks the address of a state; other hashes name a part of the page. */
const MARK = '#at?';

/** The state of the page in its address: kept on reload, sent as a link, undone by Back. */
export class AddressState {
  private readonly parts: readonly StatePart[];
  private readonly listeners: (() => void)[] = [];
  private readonly rest = whenQuiet(REST, () => this.push());
  /** Place of this state among those of this visit, and the last of them. */
  private place = 0;
  private last = 0;
  private writing = false;

  constructor(parts: readonly StatePart[]) {
    this.parts = parts;
    const known = history.state as { place?: number } | null;
    this.place = known?.place ?? 0;
    this.last = this.place;
    if (location.hash.startsWith(MARK)) this.apply();
    history.replaceState({ place: this.place }, '');
    for (const part of parts)
      part.onChange(() => {
        if (!this.writing) this.rest();
      });
    addEventListener('popstate', (event) => this.returned(event.state as { place?: number } | null));
    keepOnLinks();
  }

  onMove(listener: () => void): void {
    this.listeners.push(listener);
  }

  get canUndo(): boolean {
    return this.place > 0;
  }

  get canRedo(): boolean {
    return this.place < this.last;
  }

  private push(): void {
    const hash = this.hash();
    if (hash === (location.hash.startsWith(MARK) ? location.hash : MARK)) return;
    this.place += 1;
    this.last = this.place;
    history.pushState({ place: this.place }, '', hash);
    this.moved();
  }

  private hash(): string {
    const state = Object.assign({}, ...this.parts.map((part) => part.read())) as Record<string, string>;
    return `${MARK}${new URLSearchParams(state)}`;
  }

  private returned(state: { place?: number } | null): void {
    if (state?.place === undefined && !location.hash.startsWith(MARK)) return;
    this.place = state?.place ?? 0;
    this.last = Math.max(this.last, this.place);
    this.apply();
    this.moved();
  }

  private apply(): void {
    const text = location.hash.startsWith(MARK) ? location.hash.slice(MARK.length) : '';
    const state = Object.fromEntries(new URLSearchParams(text));
    this.writing = true;
    for (const part of this.parts) part.write(state);
    this.writing = false;
  }

  private moved(): void {
    for (const listener of this.listeners) listener();
  }
}

/** Links to a part of the page scroll there and leave the address, which holds the state, as it is. */
function keepOnLinks(): void {
  document.addEventListener('click', (event) => {
    const link = (event.target as Element).closest?.('a[href^="#"]');
    const part = link && document.getElementById(link.getAttribute('href')!.slice(1));
    if (!part) return;
    event.preventDefault();
    part.scrollIntoView();
    part.setAttribute('tabindex', '-1');
    part.focus({ preventScroll: true });
  });
}

/** Buttons and keys that go back and on. */
export function bindUndo(
  state: AddressState,
  undo: HTMLButtonElement | undefined,
  redo: HTMLButtonElement | undefined,
): void {
  const update = () => {
    if (undo) undo.disabled = !state.canUndo;
    if (redo) redo.disabled = !state.canRedo;
  };
  const back = () => state.canUndo && history.back();
  const on = () => state.canRedo && history.forward();
  undo?.addEventListener('click', back);
  redo?.addEventListener('click', on);
  document.addEventListener('keydown', (event) => {
    if (
      !(event.ctrlKey || event.metaKey) ||
      (event.target as Element).matches?.('input[type=text], textarea')
    )
      return;
    const key = event.key.toLowerCase();
    if (key === 'z' && !event.shiftKey) back();
    else if (key === 'y' || key === 'z') on();
    else return;
    event.preventDefault();
  });
  state.onMove(update);
  update();
}
