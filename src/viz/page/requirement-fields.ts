import type { CaseState, FormLine } from './case-fields.ts';
import type { CaseText } from './case-text.ts';
import { element } from './dom.ts';

/** What can be required, with its unit and a value to start from. */
const OFFERED = [
  ['passing', 'share below a size', '95 %'],
  ['x50', 'x50', '30 um'],
  ['x95', 'x95', '75 um'],
  ['x99', 'x99', '100 um'],
  ['span', 'span', '2'],
  ['motorLoad', 'motor load', '90 %'],
  ['outletTemperature', 'outlet temperature', '50 degC'],
  ['specificEnergy', 'specific energy', '60 kWh/t'],
  ['feedMargin', 'feed margin to choke', '10 %'],
] as const;

/** The requirements as sentences to remove, and a line to add one. */
export function requirementFields(text: CaseText): FormLine {
  const list = element('ul', { class: 'requirements' });
  const quantity = element(
    'select',
    { id: 'add-quantity', 'aria-label': 'Quantity of the new requirement' },
    ...OFFERED.map(([value, words]) => element('option', { value }, words)),
  );
  const size = element('input', { type: 'text', id: 'add-size', 'aria-label': 'Size, with unit' });
  const relation = element(
    'select',
    { id: 'add-relation', 'aria-label': 'At least or at most' },
    element('option', { value: '>=' }, 'at least'),
    element('option', { value: '<=' }, 'at most'),
  );
  const value = element('input', { type: 'text', id: 'add-value', 'aria-label': 'Limit, with unit' });
  size.value = '75 um';
  const offer = () => {
    const [name, , start] = OFFERED.find(([each]) => each === quantity.value)!;
    size.hidden = name !== 'passing';
    value.value = start;
    relation.value = ['passing', 'feedMargin'].includes(name) ? '>=' : '<=';
  };
  quantity.addEventListener('change', offer);
  offer();
  const add = element('button', { type: 'button', id: 'add-requirement' }, 'Add this requirement');
  add.addEventListener('click', () => {
    const of = quantity.value === 'passing' ? `passing(${size.value.trim()})` : quantity.value;
    text.add(['spec'], `${of} ${relation.value} ${value.value.trim()}`);
  });
  return {
    node: element('div', {}, list, element('div', { class: 'add' }, quantity, size, relation, value, add)),
    update({ facts, faults }: CaseState) {
      const written = text.listAt(['spec']);
      const line = (each: string, i: number) => {
        const words = facts?.requirements.find((one) => one.text === each)?.words ?? each;
        const bad = faults.find(({ place }) => place === `spec[${i}]` || place.startsWith(`spec[${i}].`));
        const remove = element('button', { type: 'button', 'aria-label': `Remove: ${words}` }, 'Remove');
        remove.addEventListener('click', () => removeAt(text, i, written));
        return element(
          'li',
          {},
          element('span', {}, words, bad && element('span', { class: 'fault' }, ` ${bad.message}`)),
          remove,
        );
      };
      list.replaceChildren(...written.map(line));
      if (written.length === 0) list.append(element('li', { class: 'from' }, 'Nothing is required yet.'));
    },
  };
}

function removeAt(text: CaseText, i: number, written: readonly string[]): void {
  if (written.length === 1) text.remove(['spec']);
  else text.remove(['spec', i]);
}
