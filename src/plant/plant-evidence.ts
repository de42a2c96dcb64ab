import type { Evidence } from '../model/sources.ts';

/** Works the units around the mill are taken from; every one `recalled`, not re-read, unless a test says otherwise. */
export const PLANT_SOURCES = {
  cooperAlley: 'Cooper & Alley, Air Pollution Control: A Design Approach',
  hoffmannStein: 'Hoffmann & Stein, Gas Cyclones and Swirl Tubes (2nd ed.), ch. 6',
  rhodes: 'Rhodes, Introduction to Particle Technology (2nd ed.), ch. 8',
  stairmand: 'Stairmand, Trans. Inst. Chem. Eng. 29 (1951) 356',
  conveying: 'common practice of suction conveying',
  filtration: 'common practice of pulse-cleaned filters',
  feeding: 'common practice of screw and loss-in-weight feeding',
  airlocks: 'common practice of rotary airlocks',
  fans: 'common practice of centrifugal fans',
  dust: 'common practice of dust explosion screening',
  form: 'a form or value chosen here: around the mill (notebooks/around-the-mill.md)',
} as const;

/** A preset with its evidence, as a `Parameter` carries it. */
type Preset = Evidence & { readonly value: number };

/** A value chosen here, to be replaced by the plant's own. */
export function assumed(value: number): Preset {
  return { value, label: 'assumed', source: PLANT_SOURCES.form };
}

/** A value of common practice without a source that was read. */
export function practice(value: number, source: string): Preset {
  return { value, label: 'practice', source };
}

/** A value believed from the named work, not re-read. */
export function recalled(value: number, source: string): Preset {
  return { value, label: 'recalled', source };
}
