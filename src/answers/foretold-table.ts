import { formatNumber, labelOf } from '../scenario/units/display.ts';
import type { Coverage } from '../trials/foretold.ts';
import { type AnswerTable, columnHead, columns } from './document.ts';
import { nameInWords } from './words.ts';

const short = (value: number): string => formatNumber(value, 3);

/**
 * What was predicted before the runs beside what was measured, run by run, with the count of readings inside their 95 % bands
 * as its note. `fit` and the report of trials show the same table.
 *
 * @param coverage of the trials of a log, as `coverageOf` gives it
 * @returns undefined where no run carries predictions that were measured
 * @example foretoldTable({ readings: [], inside: 11, of: 12 })?.notes // ['Of 12 readings predicted with a 95 % band 11 lay inside.']
 */
export function foretoldTable({ readings, inside, of }: Coverage): AnswerTable | undefined {
  if (of === 0) return undefined;
  return {
    columns: columns('run', 'reading', 'predicted (95 %)', 'measured', 'inside'),
    rows: readings.map(({ run, reading, unit, low, median, high, measured, inside: within }) => [
      run,
      columnHead({ name: nameInWords(reading), unit: labelOf(unit) }),
      `${short(median)} (${short(low)} to ${short(high)})`,
      { text: short(measured), fails: !within },
      within ? 'yes' : 'NO',
    ]),
    notes: [`Of ${of} readings predicted with a 95 % band ${inside} lay inside.`],
  };
}
