import { measureText } from '../../answers/measure.ts';
import type { SweepTable } from '../../answers/sweep-table.ts';
import { element } from './dom.ts';

/** What the window shows: two axes and a quantity. */
export interface Shown {
  readonly x: string;
  readonly y: string;
  readonly quantity: string;
}

/** Choices over the window: the quantity coloured, the axes where there are more than two, the bands. */
export class WindowChoices {
  private readonly changed: (shown: Shown, axes: boolean) => void;
  private readonly fields = new Map<keyof Shown, HTMLSelectElement>();
  private shown: Shown;

  constructor(
    root: HTMLElement,
    table: SweepTable,
    shown: Shown,
    calls: {
      readonly changed: (shown: Shown, axes: boolean) => void;
      readonly bands: (show: boolean) => void;
      readonly showBands: boolean;
    },
  ) {
    this.shown = shown;
    this.changed = calls.changed;
    this.add(
      root,
      'quantity',
      'Colour shows',
      table.quantities.map(({ of, measure }) => [of, measureText(measure)] as const),
    );
    const numbers = table.factors
      .filter(({ names }) => !names)
      .map(({ path, measure }) => [path, measure.name] as const);
    if (numbers.length > 2) {
      this.add(root, 'x', 'across', numbers);
      this.add(root, 'y', 'up', numbers);
    }
    if (table.limits.length === 0) return;
    const box = element('input', { type: 'checkbox', id: 'choose-bands', checked: calls.showBands });
    box.addEventListener('change', () => calls.bands(box.checked));
    root.append(element('label', { class: 'check' }, box, ' where limits may lie'));
  }

  private add(
    root: HTMLElement,
    key: keyof Shown,
    name: string,
    options: readonly (readonly [string, string])[],
  ): void {
    const id = `choose-${key}`;
    const choices = options.map(([value, text]) =>
      element('option', { value, selected: value === this.shown[key] }, text),
    );
    const field = element('select', { id }, ...choices);
    field.addEventListener('change', () => this.choose(key, field.value));
    this.fields.set(key, field);
    root.append(element('label', { for: id }, name), field);
  }

  /** Stands the choices at what is shown. */
  show(shown: Shown): void {
    this.shown = shown;
    for (const [each, field] of this.fields) field.value = shown[each];
  }

  private choose(key: keyof Shown, value: string): void {
    const next = { ...this.shown, [key]: value };
    // an axis chosen twice swaps with the other
    this.shown = next.x === next.y ? { ...next, [key === 'x' ? 'y' : 'x']: this.shown[key] } : next;
    this.show(this.shown);
    this.changed(this.shown, key !== 'quantity');
  }
}
