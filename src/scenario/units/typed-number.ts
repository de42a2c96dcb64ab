import { fromShown, labelOf, shownUnits, siUnitOf, toShown } from './display.ts';

/**
 * A number typed into a field, in the unit the field shows; a unit of the same kind may follow and is converted.
 *
 * @param shownIn unit of the field, as `display.ts` names it
 * @returns the number in that unit, or what is wrong with the text
 * @example typedNumber('0.3 t/h', 'kg/h') // { value: 300 }
 */
export function typedNumber(text: string, shownIn: string): { value: number } | { fault: string } {
  const found = /^\s*([+\-−]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*(.*?)\s*$/i.exec(text);
  if (!found) return { fault: `write a number with a decimal point, e.g. ${example(shownIn)}` };
  const value = Number(found[1]!.replace('−', '-'));
  const unit = found[2]!;
  if (/^[,\d]/.test(unit)) return { fault: `use a decimal point and no thousands separator: ${text}` };
  if (unit === '') return { value };
  if (unit === 'Hz' && shownIn === 'rpm')
    return { fault: 'Hz is the frequency of a drive, not of the shaft; write 150 rpm' };
  const known = shownUnits().find((each) => each === unit || labelOf(each) === unit);
  if (known === undefined || siUnitOf(known) !== siUnitOf(shownIn))
    return { fault: `"${unit}" is not a unit of this number; write ${example(shownIn)}` };
  return { value: toShown(fromShown(value, known), shownIn) };
}

function example(shownIn: string): string {
  return `150 ${labelOf(shownIn)}`.trim();
}
