import { typedNumber } from '../../scenario/units/typed-number.ts';
import type { Control } from '../report/controls.ts';
import { element } from './dom.ts';
import { type Settings, shownNumber } from './settings.ts';

export type NumberControl = Extract<Control, { kind: 'number' }>;

/** A field beside a slider that takes a number, with or without a unit, within the slider's range. */
export function numberField(control: NumberControl, settings: Settings, slider: string) {
  const { path, shownIn, unit, name, min, max } = control;
  const id = `${slider}-number`;
  const input = element('input', {
    type: 'text',
    id,
    class: 'typed',
    inputmode: 'decimal',
    autocomplete: 'off',
    size: 6,
    'aria-label': unit ? `${name}, ${unit}` : name,
    'aria-describedby': `${id}-fault`,
  });
  const fault = element('p', { class: 'fault', id: `${id}-fault`, role: 'alert', hidden: true });
  const refuse = (words: string) => {
    fault.textContent = words;
    fault.hidden = words === '';
    input.setAttribute('aria-invalid', String(words !== ''));
  };
  const update = () => {
    input.value = shownNumber(settings.now[path] as number);
    refuse('');
  };
  const take = () => {
    if (input.value === shownNumber(settings.now[path] as number)) return refuse('');
    const typed = typedNumber(input.value, shownIn);
    if ('fault' in typed) return refuse(typed.fault);
    if (typed.value < min || typed.value > max)
      return refuse(`must be ${shownNumber(min)} to ${shownNumber(max)} ${unit}`.trim());
    settings.set({ [path]: Number(typed.value.toPrecision(12)) });
    update();
  };
  input.addEventListener('change', take);
  input.addEventListener('keydown', (event) => {
    if (event.key === 'Enter') take();
    if (event.key === 'Escape') update();
  });
  return { field: element('span', { class: 'number' }, input, unit ? ` ${unit}` : ''), fault, update };
}
