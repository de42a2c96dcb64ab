import { label } from '../../answers/text.ts';
import type { Control } from '../report/controls.ts';
import { element } from './dom.ts';
import { type NumberControl, numberField } from './number-field.ts';
import { type Settings, shownNumber } from './settings.ts';

const GROUPS = [
  { group: 'settings', title: undefined },
  { group: 'wheel', title: 'Wheel geometry' },
  { group: 'rotor', title: 'Rotor geometry' },
  { group: 'coefficients', title: 'Coefficients' },
] as const;

/** Choices shown side by side at most; more make a list. */
const MOST_CHOICES = 6;

/** Sliders and choices for every control, kept in step with the settings. */
export function buildPanel(root: HTMLElement, settings: Settings): void {
  const updates = new Map<string, () => void>();
  for (const { group, title } of GROUPS) {
    const own = settings.controls.filter((control) => control.group === group);
    if (own.length === 0) continue;
    const fields = own.map((control) => {
      const { field, update } =
        control.kind === 'choice' ? choice(control, settings) : slider(control, settings);
      updates.set(control.path, update);
      return field;
    });
    if (title === undefined) root.append(...fields);
    else root.append(element('details', { class: 'more' }, element('summary', {}, title), ...fields));
  }
  settings.onChange((changed) => {
    for (const path of changed) updates.get(path)?.();
  });
}

interface Field {
  readonly field: HTMLElement;
  readonly update: () => void;
}

function slider(control: NumberControl, settings: Settings): Field {
  const id = `set-${control.path.split('.').join('-')}`;
  const { min, max, step } = control;
  const input = element('input', { type: 'range', id, min, max, step: 'any', value: control.value });
  const typed = numberField(control, settings, id);
  const update = () => {
    const value = settings.now[control.path] as number;
    if (Number(input.value) !== value) input.value = String(value);
    input.setAttribute('aria-valuetext', `${shownNumber(value)} ${control.unit}`.trim());
    typed.update();
  };
  input.addEventListener('input', () =>
    settings.set({ [control.path]: snapped(Number(input.value), control) }),
  );
  input.addEventListener('keydown', (event) => {
    const by = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -10, PageUp: 10 }[
      event.key
    ];
    if (by === undefined) return;
    event.preventDefault();
    const value = (settings.now[control.path] as number) + by * step;
    settings.set({ [control.path]: snapped(Math.min(max, Math.max(min, value)), control) });
  });
  update();
  const head = element('div', { class: 'head' }, element('label', { for: id }, control.name), typed.field);
  return { field: element('div', { class: 'field' }, head, input, typed.fault), update };
}

/** To the control's step; the ends themselves are kept. */
function snapped(value: number, { min, max, step }: NumberControl): number {
  if (value <= min) return min;
  if (value >= max) return max;
  return Number((Math.round(value / step) * step).toPrecision(8));
}

function choice(control: Extract<Control, { kind: 'choice' }>, settings: Settings): Field {
  if (control.choices.length > MOST_CHOICES) return list(control, settings);
  const inputs = control.choices.map((each) =>
    element('input', {
      type: 'radio',
      name: `set-${control.path}`,
      value: each,
      checked: each === control.value,
    }),
  );
  const fields = inputs.map((input, i) =>
    element('label', { class: 'choice' }, input, element('bdi', {}, label(control.choices[i]!))),
  );
  for (const input of inputs)
    input.addEventListener('change', () => settings.set({ [control.path]: input.value }));
  const update = () => {
    for (const input of inputs) input.checked = input.value === settings.now[control.path];
  };
  return { field: element('fieldset', {}, element('legend', {}, control.name), ...fields), update };
}

function list(control: Extract<Control, { kind: 'choice' }>, settings: Settings): Field {
  const id = `set-${control.path}`;
  const options = control.choices.map((each) =>
    element('option', { value: each, selected: each === control.value }, label(each)),
  );
  const select = element('select', { id }, ...options);
  select.addEventListener('change', () => settings.set({ [control.path]: select.value }));
  const update = () => {
    select.value = String(settings.now[control.path]);
  };
  return {
    field: element('div', { class: 'field' }, element('label', { for: id }, control.name), select),
    update,
  };
}
