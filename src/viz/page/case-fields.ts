import type { CaseFacts } from '../../answers/desk/case-facts.ts';
import { type AxisChoice, roundedOn } from '../../answers/desk/window-axes.ts';
import type { Fault } from '../../scenario/errors.ts';
import type { CaseText, KeyPath } from './case-text.ts';
import { element } from './dom.ts';

/** What fields are brought up to date from. */
export interface CaseState {
  readonly text: CaseText;
  /** Absent while the case has faults. */
  readonly facts?: CaseFacts;
  readonly faults: readonly Fault[];
}

/** A line of the form. */
export interface FormLine {
  readonly node: HTMLElement;
  update(state: CaseState): void;
}

interface FieldOptions {
  readonly name: string;
  readonly path: KeyPath;
  /** Path of the value in use, where it differs from the key's. */
  readonly uses?: string;
  readonly example: string;
  /** Axis of the window that holds the range of its slider; none without. */
  readonly slides?: string;
}

/** A field for one value of the case, with its unit in it; an empty one takes the value out of the file. */
export function valueField(text: CaseText, { name, path, uses, example, slides }: FieldOptions): FormLine {
  const dotted = path.join('.');
  const id = idOf(path);
  const input = element('input', {
    type: 'text',
    id,
    spellcheck: 'false',
    'aria-describedby': `${id}-from ${id}-fault`,
  });
  const from = element('p', { class: 'from', id: `${id}-from` });
  const fault = element('p', { class: 'fault', id: `${id}-fault`, hidden: true });
  input.addEventListener('input', () => {
    const typed = input.value.trim();
    if (typed === '') text.remove(path);
    else text.put(path, typed);
  });
  const slider = slides === undefined ? undefined : new FieldSlider(text, path, name);
  return {
    node: element(
      'div',
      { class: 'line' },
      element('label', { for: id }, name),
      input,
      slider?.input,
      from,
      fault,
    ),
    update({ facts, faults }) {
      slider?.update(facts?.window.axes.find((axis) => axis.path === slides));
      const written = text.valueAt(path);
      const used = facts?.values[uses ?? dotted];
      if (document.activeElement !== input) input.value = written ?? '';
      input.placeholder = written === undefined && used ? used.text : example;
      input.disabled = text.document === undefined;
      from.textContent = fromWords(written, used);
      const own = faults.filter(({ place }) => place === dotted);
      fault.textContent = own.map(({ message }) => message).join('; ');
      fault.hidden = own.length === 0;
      input.setAttribute('aria-invalid', String(own.length > 0));
    },
  };
}

/** A slider beside a field, over the range the window has. */
class FieldSlider {
  readonly input: HTMLInputElement;
  private axis: AxisChoice | undefined;

  constructor(text: CaseText, path: KeyPath, name: string) {
    this.input = element('input', {
      type: 'range',
      step: 'any',
      hidden: true,
      'aria-label': `${name}, slider`,
    });
    const put = (value: number) => {
      const { shownIn } = this.axis!;
      text.put(path, `${roundedOn(this.axis!, value)} ${shownIn === '1' ? '' : shownIn}`.trim());
    };
    this.input.addEventListener('input', () => put(Number(this.input.value)));
    this.input.addEventListener('keydown', (event) => {
      const by = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -10, PageUp: 10 }[
        event.key
      ];
      if (by === undefined || !this.axis) return;
      event.preventDefault();
      const { from, to } = this.axis;
      const value = Number(this.input.value) + (by * (to - from)) / STEPS;
      this.input.value = String(value);
      put(Number(this.input.value));
    });
  }

  update(axis: AxisChoice | undefined): void {
    this.axis = axis;
    this.input.hidden = axis === undefined;
    if (!axis) return;
    this.input.min = String(axis.from);
    this.input.max = String(axis.to);
    if (document.activeElement !== this.input) this.input.value = String(axis.at);
    this.input.setAttribute('aria-valuetext', `${axis.at} ${axis.measure.unit}`);
  }
}

/** Steps of an arrow key over a slider's range. */
const STEPS = 100;

/** Where a value comes from; nothing where the file gives it in the unit shown. */
function fromWords(written: string | undefined, used: CaseFacts['values'][string] | undefined): string {
  if (!used) return '';
  if (written === undefined) return `${used.label}: ${used.source}`.slice(0, 160);
  const same = inSigns(written) === used.text;
  if (used.label === 'given') return same ? '' : `= ${used.text}`;
  return same ? used.label : `${used.label}, = ${used.text}`;
}

/** A value as typed, with the signs a page shows. */
function inSigns(typed: string): string {
  return typed
    .replace('^2', '²')
    .replace('^3', '³')
    .replace(/\bum\b/, 'µm')
    .replace(/\bdegC\b/, '°C');
}

interface ChoiceOptions {
  readonly name: string;
  readonly id: string;
  readonly choices: (state: CaseState) => readonly (readonly [value: string, words: string])[];
  readonly value: (state: CaseState) => string;
  readonly choose: (value: string) => void;
}

/** A choice among names. */
export function choiceField({ name, id, choices, value, choose }: ChoiceOptions): FormLine {
  const select = element('select', { id });
  select.addEventListener('change', () => choose(select.value));
  let shown = '';
  return {
    node: element('div', { class: 'line' }, element('label', { for: id }, name), select),
    update(state) {
      const offered = choices(state);
      const key = JSON.stringify(offered);
      if (key !== shown) {
        shown = key;
        select.replaceChildren(...offered.map(([each, words]) => element('option', { value: each }, words)));
      }
      select.value = value(state);
      select.disabled = state.text.document === undefined;
    },
  };
}

/** A name by which the page knows a field. */
export function idOf(path: KeyPath): string {
  return `field-${path.join('-').replace(/[^\w-]+/g, '')}`;
}
