import type { Expression, Requirement } from '../scenario/expression/expression.ts';
import { QUANTITIES, quantityNamed } from '../scenario/outcome/quantities.ts';
import type { Goal } from '../scenario/scenario.ts';
import { formatQuantity, fromShown, labelOf } from '../scenario/units/display.ts';
import type { Measure } from './measure.ts';
import { label } from './text.ts';

/** Words for names that would read oddly when merely split at their capitals. */
const WORDS: Readonly<Record<string, string>> = {
  holdup: 'hold-up',
  stokesCutSize: 'Stokes cut size',
  d32: 'd32',
  d43: 'd43',
  surface: 'specific surface',
  rotorSpeedUse: 'rotor speed over its highest',
  wheelSpeedUse: 'wheel speed over its highest',
  feedAtChoke: 'feed at choke',
  feedMargin: 'feed margin to choke',
  flowAtOutlet: 'air flow at outlet',
  productLoading: 'product in exit air',
  hitsPerPass: 'hits per pass',
  passing: 'share finer',
  oversize: 'share coarser',
};

/** A quantity's, setting's or path's name in words: `motorLoad` → `motor load`. */
export function nameInWords(name: string): string {
  const last = name.split('.').at(-1)!;
  return WORDS[last] ?? last.replace(/(?<=[a-z0-9])(?=[A-Z])/g, ' ').toLowerCase();
}

/** A factor's or path's name with whose it is: `wheel.geometry.height` → `wheel height`. */
export function pathInWords(path: string): string {
  const keys = path.split('.');
  if (keys.length === 1) return nameInWords(path);
  const owner =
    keys.includes('wheels') || keys[0] === 'wheel'
      ? 'wheel'
      : keys.includes('rotor')
        ? 'rotor'
        : keys[0] === 'air'
          ? 'air'
          : '';
  const name = nameInWords(keys.at(-1)!);
  return owner && !name.startsWith(owner) ? `${owner} ${name}` : name;
}

/** A goal in words: `maximise feed rate`; one that computes, as it is written. */
export function goalWords({ sense, expression, text }: Goal): string {
  return expression.kind === 'quantity' && expression.argument === undefined
    ? `${sense} ${nameInWords(expression.name)}`
    : text;
}

/** Words of a limit at their shortest: `motor load at most 90 %` → `motor load ≤ 90 %`. */
export function inSigns(words: string): string {
  return words
    .replace(' at least ', ' ≥ ')
    .replace(' at most ', ' ≤ ')
    .replace(' more than ', ' > ')
    .replace(' less than ', ' < ');
}

/** Shares that people speak of in percent, though `run --json` gives them as numbers. */
const IN_PERCENT: ReadonlySet<string> = new Set(['motorLoad', 'bypass']);

/** Unit in which pages show a quantity. */
export function pageUnit(name: string): string {
  return IN_PERCENT.has(name) ? '%' : (quantityNamed(name)?.shownIn ?? '1');
}

/** A column's quantity taken apart: `passing(75 um)` → passing at 75e-6. */
export function quantityParts(of: string): { readonly name: string; readonly argument?: number } {
  const found = /^(\w+)\(([\d.e+-]+) (\S+)\)$/.exec(of);
  if (!found) return { name: of };
  return { name: found[1]!, argument: fromShown(Number(found[2]), found[3]!) };
}

/** A quantity as a column is named: `passing(75 um)`. */
export function quantityText(name: string, argument?: number): string {
  return argument === undefined ? name : `${name}(${Number((argument * 1e6).toPrecision(12))} um)`;
}

/** Name and unit of a quantity as an axis shows them: `share finer than 75 µm`. */
export function quantityMeasure(of: string): Measure {
  const { name, argument } = quantityParts(of);
  const than = argument === undefined ? '' : ` than ${formatQuantity(argument, 'um', 4)}`;
  return { name: `${nameInWords(name)}${than}`, unit: labelOf(pageUnit(name)) };
}

/** Relations said of a limit. */
const SAYS = { '>=': 'at least', '>': 'more than', '<=': 'at most', '<': 'less than' } as const;

/**
 * A line of a spec as people say it.
 *
 * For example `passing(75 um) >= 95 %` becomes `95 % below 75 µm`.
 */
export function requirementWords(requirement: Requirement): string {
  const { left, right, relation, text, shownIn } = requirement;
  if (left.kind !== 'quantity' || right.kind !== 'number') return label(text, 60);
  const limit = formatQuantity(right.value, shownIn, 4);
  if (left.argument !== undefined) {
    const size = formatQuantity(left.argument, 'um', 4);
    const side = left.name === 'oversize' ? 'above' : 'below';
    if (left.name === 'passing' || left.name === 'oversize') {
      return relation === '>=' ? `${limit} ${side} ${size}` : `${SAYS[relation]} ${limit} ${side} ${size}`;
    }
    return label(text, 60);
  }
  return `${nameInWords(left.name)} ${SAYS[relation]} ${limit}`;
}

/** What a line of a spec is about, shortly: fineness, motor load … */
export function requirementTopic({ left, text }: Requirement): string {
  const name = firstQuantity(left);
  if (name === undefined) return label(text, 60);
  if (name === 'passing' || name === 'oversize' || /^x\d/.test(name)) return 'fineness';
  return nameInWords(name);
}

function firstQuantity(expression: Expression): string | undefined {
  switch (expression.kind) {
    case 'number':
      return undefined;
    case 'quantity':
      return expression.name;
    case 'negate':
      return firstQuantity(expression.of);
    case 'binary':
      return firstQuantity(expression.left) ?? firstQuantity(expression.right);
  }
}

/** Whether a quantity is a size, smooth in its logarithm. */
export function sizeLike({ unit }: { readonly unit: string }): boolean {
  return unit === 'm';
}

/** A quantity in `run --json` as a page shows it: times `factor`. */
export interface ShownKey {
  readonly key: string;
  readonly name: string;
  readonly unit: string;
  readonly factor: number;
}

/** Quantities of one group of `run --json`, in its order. */
export function quantitiesInGroup(group: string): ShownKey[] {
  return QUANTITIES.filter((quantity) => quantity.group === group && quantity.argument === undefined).map(
    ({ key, name }) => ({
      key,
      name: nameInWords(name),
      unit: labelOf(pageUnit(name)),
      factor: IN_PERCENT.has(name) ? 100 : 1,
    }),
  );
}
