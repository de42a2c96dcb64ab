import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readPlainData, writePlainData } from '../../../src/sweep/store/plain-data.ts';

test.each([
  [{ job: { number: 'LOT-A' } }],
  [{ job: { number: 'NaN' } }],
  [{ number: 7 }],
  [{ number: ['x'] }],
  [{ number: { number: Number.POSITIVE_INFINITY } }],
  [[Number.NaN, Number.NEGATIVE_INFINITY, { number: null }]],
])('%j comes back as it was: no key of a user means anything to the notation', (value) => {
  expect(readPlainData(writePlainData(value))).toEqual(value);
});

test('any plain data comes back as it was', () => {
  const key = fc.constantFrom('number', 'value', 'a');
  // minus zero is the one number that JSON does not keep
  const number = fc.double().map((value) => value + 0);
  const { tree } = fc.letrec((tie) => ({
    tree: fc.oneof({ maxDepth: 4 }, number, fc.string(), fc.constant(null), tie('record'), tie('list')),
    record: fc.dictionary(key, tie('tree'), { maxKeys: 3, noNullPrototype: true }),
    list: fc.array(tie('tree'), { maxLength: 3 }),
  }));
  const same = fc.property(tree, (value) => {
    expect(readPlainData(writePlainData(value))).toEqual(value);
  });
  fc.assert(same, { seed: 5, numRuns: 500 });
});
