import type { MathNode } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { simpleTree } from '../../../src/scenario/expression/simple-tree.ts';
import type { Tree } from '../../../src/scenario/expression/typed.ts';
import { dimensionOf } from '../../../src/scenario/units/dimension.ts';
import { fromShown, shownUnits, siUnitOf } from '../../../src/scenario/units/display.ts';
import { isolatedMath } from '../../../src/scenario/units/mathjs.ts';
import reduced from '../../../src/scenario/units/reduced-math.ts';
import { close } from '../../close.ts';

// What the program knows without the library must be what the library says, or a file would mean two things.
const LIBRARY = { whole: isolatedMath(), reduced: reduced.create() as ReturnType<typeof isolatedMath> };

/** Units the program names that the library has under another name, or not at all. */
const OURS: Readonly<Record<string, string>> = {
  '%': '0.01 m/m',
  ppm: '1e-6 m/m',
  rpm: '0.016666666666666666 Hz',
  cfm: '1 ft^3/min',
};

describe.each(Object.entries(LIBRARY))('units of the %s library', (name, math) => {
  const units = shownUnits().filter((unit) => unit !== '1' && (name === 'whole' || !/cal/.test(unit)));
  test.each(units)('%s', (unit) => {
    const text = OURS[unit] ?? (unit.startsWith('1/') ? unit : `1 ${unit}`);
    const library = math.unit(text);
    close((library.toSI() as unknown as { value: number }).value, fromShown(1, unit), 1e-14);
    const { dimensions } = library as unknown as { dimensions: number[] };
    expect(dimensionOf(siUnitOf(unit)).powers.map((power) => power + 0)).toEqual(dimensions);
  });
});

/** What of a tree the program looks at. */
function plain(node: Tree | MathNode): unknown {
  const { type, fn, args, op, implicit, name, value } = node as Tree;
  if (type === 'ConstantNode') return { type, value };
  if (type === 'SymbolNode') return { type, name };
  const called = typeof fn === 'object' ? fn.name : fn;
  return { type, fn: called, op, implicit: implicit ?? false, args: args?.map(plain) };
}

describe('a tree made without the library is the one it makes', () => {
  test.each([
    'passing(75 um) >= 95 %',
    'x50>=20um',
    'motorLoad <= 90 %',
    'outletTemperature <= 50 degC',
    'passing( 75 um )>0.95',
    'oversize(150 um) < 0.1 %',
    'feedRate',
    'x97_5 <= 120 um',
    'rotorPower <= 12.5 kW',
    'span < 2',
    '3 min <= residence',
  ])('%s', (text) => {
    const own = simpleTree(text);
    expect(own).toBeDefined();
    expect(plain(own!)).toEqual(plain(isolatedMath().parse(text)));
  });
  test.each([
    'x90/x10 <= 5',
    'x50 >= 5 in',
    'feedRate >= 150 kg/h',
    'passing(75 um) >= 95 % and x50 > 3 um',
    'a < b < c',
    'passing(passing(75 um)) > 1',
    'x50 = 3 um',
    '2 furlong > x50',
    '',
    'true',
    'x50 >= -3 um',
  ])('%s is left to the library', (text) => {
    expect(simpleTree(text)).toBeUndefined();
  });
});
