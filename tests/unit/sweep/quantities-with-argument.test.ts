import { expect, test } from 'vitest';
import { compileStudy } from '../../../src/sweep/study/compile.ts';
import { studyOf } from '../../../src/sweep/study/study-of.ts';
import { demo } from '../../answers/cases.ts';

test('a share at a size can be stored by its name, once, whichever way its size is typed', async () => {
  const scenario = await demo();
  const names = ['x97', 'passing(10 um)', 'oversize(0.1 mm)', 'passing(0.075 mm)'];
  const { columns, evaluate } = compileStudy(studyOf(scenario, { quantities: names }));
  const stored = columns.flatMap(({ role, of }) => (role === 'quantity' ? [of] : []));
  expect(stored).toEqual(['x97', 'passing(10 um)', 'oversize(100 um)', 'passing(75 um)']);
  const { values } = evaluate({ first: 0, count: 1 });
  const margin = values[columns.findIndex(({ of }) => of === 'passing(75 um) >= 95 %')]!;
  const share = values[columns.findIndex(({ of }) => of === 'passing(75 um)')]!;
  expect(share - 95).toBeCloseTo(margin, 9);
});

test('one that needs a size and has none is refused with an example', async () => {
  const scenario = await demo();
  expect(() => studyOf(scenario, { quantities: ['passing'] })).toThrow(
    'passing needs a size, e.g. passing(75 um)',
  );
  expect(() => studyOf(scenario, { quantities: ['x95', 'finess'] })).toThrow('no quantity finess');
});
