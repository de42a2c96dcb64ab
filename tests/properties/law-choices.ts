import fc from 'fast-check';
import type { LawChoice, LawHeader, Parameter, Table } from '../../src/model/parameters.ts';

/** How far beyond the preset or typical value a parameter without an end is tried. */
const DECADES = 10;

/** A value anywhere in a parameter's allowed range, spread over its logarithm where it must be above zero. */
function numberWithin(parameter: Parameter): fc.Arbitrary<number> {
  const middle = parameter.preset?.value ?? parameter.typical ?? 1;
  const low = parameter.minimum ?? middle / DECADES;
  const high = parameter.maximum ?? parameter.exclusiveMaximum ?? middle * DECADES;
  const share = fc.double({ min: 0, max: 1, noNaN: true });
  if (low <= 0) return share.map((t) => low + t * (Math.min(high, middle * DECADES) - low));
  return share.map((t) => Math.min(high, Math.max(low, low * (high / low) ** t)));
}

/** Rows with a strictly rising first column and a second that does not fall, inside what the columns allow. */
function tableLike(typical: Table, strict: boolean): fc.Arbitrary<Table> {
  const steps = fc.array(
    fc.tuple(
      fc.double({ min: 0.02, max: 1, noNaN: true }),
      fc.double({ min: strict ? 0.02 : 0, max: 1, noNaN: true }),
    ),
    { minLength: 3, maxLength: 9 },
  );
  const first = typical[0]!;
  const last = typical.at(-1)!;
  return steps.map((rows) => {
    const whole = [rows.reduce((sum, [x]) => sum + x, 0), rows.reduce((sum, [, q]) => sum + q, 0) || 1];
    let [x, q] = [0, 0];
    return rows.map((row) => {
      x += row[0] / whole[0]!;
      q += row[1] / whole[1]!;
      return [
        first[0] * (last[0] / first[0]) ** x,
        Math.min(last[1], first[1] + q * (last[1] - first[1])),
      ] as const;
    });
  });
}

/** Any choice of a law that a scenario would let through. */
export function choiceOf(law: LawHeader): fc.Arbitrary<LawChoice> {
  const numbers = fc.record(
    Object.fromEntries(law.parameters.map((parameter) => [parameter.name, numberWithin(parameter)])),
  );
  const points = law.table
    ? tableLike(law.table.typical, law.name === 'percentiles').map((rows) => ({ points: rows }))
    : fc.constant({});
  return fc.tuple(numbers, points).map(([values, table]) => ({ law: law.name, ...values, ...table }));
}
