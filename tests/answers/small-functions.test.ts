import { describe, expect, test } from 'vitest';
import { ridgeOf } from '../../src/answers/capacity-ridge.ts';
import { levelsOver, linearTicks } from '../../src/answers/contour-levels.ts';
import { joinPlanes, readPlane } from '../../src/answers/desk/join-planes.ts';
import { columnHead, columns } from '../../src/answers/document.ts';
import { dustWords } from '../../src/answers/dust-words.ts';
import { typedSetting } from '../../src/answers/find/find-words.ts';
import { foretoldTable } from '../../src/answers/foretold-table.ts';
import { listed } from '../../src/answers/join-words.ts';
import { gatesOf } from '../../src/answers/spec-gates.ts';
import { distinct, ranked } from '../../src/answers/sweep-ranking.ts';
import { endsOf, quantityOf, type SweepTable, tableGrid } from '../../src/answers/sweep-table.ts';
import { axesAmong, commonReason } from '../../src/answers/sweep-window.ts';
import { meetsWords, tableVerdict } from '../../src/answers/table-verdict.ts';
import { label, sentence, tidy, together, words } from '../../src/answers/text.ts';
import { textTable } from '../../src/answers/text-table.ts';
import {
  nameInWords,
  pageUnit,
  pathInWords,
  quantitiesInGroup,
  quantityParts,
  quantityText,
  requirementTopic,
  requirementWords,
} from '../../src/answers/words.ts';
import type { PlaneFields } from '../../src/search/window/window.ts';
import type { ForetoldReading } from '../../src/trials/log/columns.ts';
import { demo, requirement } from './cases.ts';

describe('names in words', () => {
  test.each([
    ['motorLoad', 'motor load'],
    ['x50', 'x50'],
    ['holdup', 'hold-up'],
    ['stokesCutSize', 'Stokes cut size'],
    ['d43', 'd43'],
    ['surface', 'specific surface'],
    ['feedAtChoke', 'feed at choke'],
    ['passing', 'share finer'],
    ['oversize', 'share coarser'],
    ['air.flowAtOutlet', 'air flow at outlet'],
  ])('%s', (name, said) => expect(nameInWords(name)).toBe(said));

  test.each([
    ['rotorSpeed', 'rotor speed'],
    ['wheel.geometry.height', 'wheel height'],
    ['machine.wheels.tall.coefficients.cutFactor', 'wheel cut factor'],
    ['machine.rotor.geometry.gap', 'rotor gap'],
    ['air.flow', 'air flow'],
    ['air.temperature', 'air temperature'],
    ['material.density', 'density'],
    ['machine.rotor.rotorInertia', 'rotor inertia'],
  ])('%s', (path, said) => expect(pathInWords(path)).toBe(said));

  test('a difference of shares is said by its text, and is about fineness', () => {
    const between = requirement('passing(75 um) - passing(10 um) >= 80 %');
    expect(requirementWords(between)).toBe('passing(75 um) - passing(10 um) >= 80 %');
    expect(requirementTopic(between)).toBe('fineness');
    expect(requirementTopic(requirement('-motorLoad >= -90 %'))).toBe('motor load');
    expect(requirementTopic(requirement('1 + passes <= 20'))).toBe('passes');
  });

  test('a quantity as a column is named is taken apart again', () => {
    expect(quantityText('passing', 75e-6)).toBe('passing(75 um)');
    expect(quantityText('oversize', 0.1 * 3e-5)).toBe('oversize(3 um)');
    expect(quantityText('x95')).toBe('x95');
    expect(quantityParts('passing(75 um)')).toEqual({ name: 'passing', argument: expect.closeTo(75e-6, 15) });
    expect(quantityParts('x95')).toEqual({ name: 'x95' });
    expect([pageUnit('motorLoad'), pageUnit('x50'), pageUnit('bypass'), pageUnit('nonesuch')]).toEqual([
      '%',
      'um',
      '%',
      '1',
    ]);
    expect(quantitiesInGroup('rotor').find(({ key }) => key === 'motorLoad')).toEqual({
      key: 'motorLoad',
      name: 'motor load',
      unit: '%',
      factor: 100,
    });
  });
});

describe('text', () => {
  test('a name is one line, cut to length, without signs that hide, its direction kept to itself', () => {
    expect(label('medium-leaning')).toBe('medium leaning');
    expect(label('a-1 b')).toBe('a-1 b');
    expect(label(' two\n lines ')).toBe('two lines');
    expect(label('hid\u200bden\u202e')).toBe('hidden');
    expect(label('abcdef', 6)).toBe('abcdef');
    expect(label('abcdefg', 6)).toBe('abcde…');
    expect(label('رحى')).toBe('\u2068رحى\u2069');
    expect(words('abc def', 6)).toBe('abc d…');
    expect(words('abc def', 7)).toBe('abc def');
  });
  test('sentences and numbers with their units', () => {
    expect([sentence('run it'), sentence('x50 fails'), sentence('d32 too'), sentence('xylitol')]).toEqual([
      'Run it',
      'x50 fails',
      'd32 too',
      'Xylitol',
    ]);
    expect(together('90 m/s and 5 mm, 4 wheels, ± 3 %')).toBe(
      '90\u00a0m/s and 5\u00a0mm, 4 wheels, ±\u00a03\u00a0%',
    );
    expect(tidy(0.1 + 0.2)).toBe(0.3);
    expect([listed([]), listed(['a']), listed(['a', 'b']), listed(['a', 'b', 'c'])]).toEqual([
      '',
      'a',
      'a and b',
      'a, b and c',
    ]);
    expect(
      textTable([
        ['run', 'kW'],
        ['A', '9.1'],
        ['long', '10'],
      ]),
    ).toBe('run    kW\nA     9.1\nlong   10');
    expect(columns('feed rate, kg/h', 'name', 'a, b, c').map(columnHead)).toEqual([
      'feed rate, kg/h',
      'name',
      'a, b, c',
    ]);
    expect(columnHead({ name: '', unit: 'kW' })).toBe('kW');
  });
});

describe('round levels', () => {
  test.each([
    [0, 10, 5, [0, 2, 4, 6, 8, 10]],
    [10, 0, 5, [0, 2, 4, 6, 8, 10]],
    [3, 7, 4, [3, 4, 5, 6, 7]],
    [0, 1, 4, [0, 0.25, 0.5, 0.75, 1]],
    [12, 48, 3, [20, 40]],
    [5, 5, 3, [5]],
  ])('ticks from %d to %d, about %d', (from, to, count, ticks) => {
    expect(linearTicks(from, to, count).map((each) => Number(each.toFixed(9)))).toEqual(ticks);
  });
  test.each([
    ['straight', 0, 100, false, 8, [20, 40, 60, 80]],
    ['by the logarithm', 1, 100, true, 8, [2, 5, 10, 20, 50]],
    ['over many decades', 1, 1e6, true, 4, []],
    ['little apart', 50, 70, true, 8, [52.5, 55, 57.5, 60, 62.5, 65, 67.5]],
    ['from nothing', 0, 100, true, 8, [20, 40, 60, 80]],
    ['nothing between', 5, 5, false, 8, []],
  ] as const)('levels, %s', (_, low, high, logarithmic, most, levels) => {
    const found = levelsOver(low, high, logarithmic, most);
    expect(found.length).toBeLessThanOrEqual(most);
    expect(found.every((each) => each > low && each < high)).toBe(true);
    if (levels.length > 0) expect(found.map((each) => Number(each.toFixed(9)))).toEqual(levels);
  });
});

test.each([
  ['passing(75 um) >= 95 %', { size: 75, share: 0.95, pass: 'above', about: 'share' }],
  ['passing(10 um) <= 25 %', { size: 10, share: 0.25, pass: 'below', about: 'share' }],
  ['oversize(75 um) <= 5 %', { size: 75, share: 0.95, pass: 'above', about: 'share' }],
  ['oversize(75 um) > 40 %', { size: 75, share: 0.6, pass: 'below', about: 'share' }],
  ['x50 >= 20 um', { size: 20, share: 0.5, pass: 'below', about: 'size' }],
  ['x97 < 90 um', { size: 90, share: 0.97, pass: 'above', about: 'size' }],
])('the gate of %s', (text, gate) => {
  const line = requirement(text);
  const [first, ...more] = gatesOf([line], [{ met: true }]);
  expect(more).toEqual([]);
  expect(first).toEqual({
    ...gate,
    size: expect.closeTo(gate.size, 9),
    share: expect.closeTo(gate.share, 12),
    met: true,
    words: requirementWords(line),
  });
  expect(gatesOf([line], [])[0]!.met).toBe(false);
});

test('a requirement that no size curve shows has no gate', () => {
  for (const text of ['motorLoad <= 90 %', 'passing(75 um) - passing(10 um) >= 80 %', 'x50 >= x10'])
    expect(gatesOf([requirement(text)], [{ met: true }])).toEqual([]);
});

/** Two parts of a plane that rises by 1 along x and by 10 along y. */
const part = (...ys: number[]): PlaneFields => ({
  lattice: { x: Float64Array.of(0, 1, 2), y: Float64Array.from(ys) },
  quantity: Float64Array.from(ys.flatMap((y) => [0, 1, 2].map((x) => x + 10 * y))),
  logarithmic: false,
  limits: [
    { name: 'a', margin: Float64Array.from(ys.flatMap((y) => [0, 1, 2].map((x) => 1.5 - x - 0 * y))) },
  ],
  steady: Float64Array.from(ys.flatMap((y) => [0, 1, 2].map(() => 2.5 - y))),
});

describe('planes in parts', () => {
  test('are joined in order, and read between their nodes', () => {
    const plane = joinPlanes([part(0, 1), part(2, 3)]);
    expect([...plane.lattice.y]).toEqual([0, 1, 2, 3]);
    expect([...plane.quantity].slice(-3)).toEqual([30, 31, 32]);
    expect(plane.limits[0]!.margin).toHaveLength(12);
    expect(readPlane(plane, 0.5, 1.25)).toEqual({ value: 13, chokes: false, missed: [] });
    expect(readPlane(plane, 1.75, 2)).toEqual({ value: 21.75, chokes: false, missed: ['a'] });
    expect(readPlane(plane, 1.5, 2.75)).toMatchObject({ chokes: true, missed: [] });
    // beyond the plane its edge is read
    expect(readPlane(plane, -1, 9).value).toBe(30);
    expect(() => joinPlanes([])).toThrow('no plane to join');
  });
  test('without a field of choking there is none', () => {
    const { steady: _, ...bare } = part(0, 1);
    expect('steady' in joinPlanes([bare])).toBe(false);
    expect(readPlane(bare, 1, 1).chokes).toBe(false);
  });
});

/** Three wheel speeds by three feeds; a requirement is met up to 200, 250 and 400 kg/h or chokes. */
function table(limits: readonly (readonly number[])[], steady?: readonly number[]): SweepTable {
  const speeds = [1000, 1000, 1000, 2000, 2000, 2000, 3000, 3000, 3000];
  const feeds = [200, 300, 400, 200, 300, 400, 200, 300, 400];
  return {
    points: 9,
    factors: [
      { path: 'wheelSpeed', measure: { name: 'wheel speed', unit: 'rpm' }, shownIn: 'rpm', values: speeds },
      { path: 'feedRate', measure: { name: 'feed rate', unit: 'kg/h' }, shownIn: 'kg/h', values: feeds },
    ],
    quantities: [],
    limits: limits.map((values, k) => ({
      kind: 'requirement',
      name: `limit ${k}`,
      words: `limit ${k}`,
      topic: `topic ${k}`,
      values,
    })),
    ...(steady ? { steady } : {}),
    reason: speeds.map(() => Number.NaN),
    reasons: ['load', 'fold'],
  };
}

describe('the highest feed along a sweep', () => {
  const nan = Number.NaN;
  test('straight to where a requirement is lost, the end of the sweep, or choking', () => {
    // lost half way between 200 and 300; never lost; chokes from 300 on
    const one = table([[1, -1, -2, 3, 2, 1, 1, nan, nan]], [1, 0.5, 0.2, 1, 0.5, 0.2, 0.5, -0.1, -0.3]);
    const ridge = ridgeOf(one, tableGrid(one)!, 'wheelSpeed')!;
    expect(ridge.lines[0]!.name).toBe('this wheel');
    expect(ridge.lines[0]!.x).toEqual([1000, 2000, 3000]);
    expect(ridge.lines[0]!.feed.map((each) => Number(each.toFixed(6)))).toEqual([250, 400, 270]);
    expect(ridge.lines[0]!.binding).toEqual(['topic 0', 'highest feed swept', 'choking']);
  });
  test('no feed meets everything; of two requirements the one lost first', () => {
    const two = table([
      [-1, -1, -1, 4, -4, -8, 1, 1, 1],
      [1, 1, 1, 1, -3, -7, 2, 1, -3],
    ]);
    const { feed, binding } = ridgeOf(two, tableGrid(two)!, 'wheelSpeed')!.lines[0]!;
    expect(feed[0]).toBeNaN();
    expect(binding[0]).toBe('');
    expect([feed[1]!, feed[2]!].map((each) => Number(each.toFixed(6)))).toEqual([225, 325]);
    expect(binding.slice(1)).toEqual(['topic 1', 'topic 1']);
  });
});

test('a plane without a spec is within the limits of the machine, and meets nothing', () => {
  const named = (...names: string[]) => meetsWords({ limits: names.map((name) => ({ name })) });
  expect(named('motor', 'wheel speed').each).toBe('is within the limits of the machine');
  expect(named('rotor speed').all).toBe('are within the limits of the machine');
  expect(named('motor').label).toBe('within the limits\nof the machine');
  expect(named('x95 <= 80 um', 'motor').each).toBe('meets the whole spec');
  expect(named('x95 <= 80 um').label).toBe('meets the\nwhole spec');
});

test('what a sweep says between its points', () => {
  const one = table([[1, -1, -2, 3, 2, 1, 1, Number.NaN, Number.NaN]]);
  const grid = tableGrid(one)!;
  const at = (wheelSpeed: number, feedRate: number) => tableVerdict(one, grid, { wheelSpeed, feedRate });
  expect([at(1000, 240), at(1000, 260), at(2500, 350), at(2000, 400)]).toEqual([
    'meets the whole spec.',
    'misses limit 0.',
    'it chokes here, or near here.',
    'meets the whole spec.',
  ]);
  const none = { ...one, limits: [] };
  expect(tableVerdict(none, grid, { wheelSpeed: 1000, feedRate: 200 })).toBe('no spec to meet.');
});

test('rows in order, one of each kind, and what a sweep holds', () => {
  const one = table([]);
  expect(ranked([0, 1, 2], [5, 9, 5], Float64Array.of(0.1, 0, 0.2))).toEqual([1, 2, 0]);
  expect(distinct(one, [4, 3, 0, 1], ['feedRate'])).toEqual([4, 0]);
  expect(distinct(one, [4, 3, 0], [])).toEqual([4, 3, 0]);
  expect(endsOf([3, Number.NaN, -1, 2])).toEqual([-1, 3]);
  expect(() => quantityOf(one, 'x50')).toThrow('the sweep holds no x50');
  expect(axesAmong(['feedRate', 'rotorSpeed', 'wheelSpeed'])).toEqual(['wheelSpeed', 'rotorSpeed']);
  expect(axesAmong(['feedRate', 'rotorSpeed'])).toEqual(['rotorSpeed', 'feedRate']);
  expect(axesAmong(['feedRate'])).toBeUndefined();
  expect(commonReason({ ...one, reason: [0, 1, 1, Number.NaN] })).toBe(
    'more returns than was sent round, at every load',
  );
  expect(commonReason({ ...one, reason: [0, Number.NaN] })).toBe(
    'more solids than the air is assumed to carry',
  );
  expect(commonReason({ ...one, reasons: ['own reason'], reason: [0] })).toBe('own reason');
});

describe('predicted beside measured', () => {
  const row = (reading: ForetoldReading, unit: string, measured: number, inside: boolean) => ({
    run: '2',
    reading,
    unit,
    low: 29.62,
    median: 31.04,
    high: 32.88,
    measured,
    inside,
  });
  test('readings are named in words with their unit, one outside is marked, and the count is said', () => {
    const readings = [row('outletTemperature', 'degC', 31.1, true), row('x95', 'um', 33.4, false)];
    expect(foretoldTable({ readings, inside: 1, of: 2 })).toEqual({
      columns: columns('run', 'reading', 'predicted (95 %)', 'measured', 'inside'),
      rows: [
        ['2', 'outlet temperature, °C', '31 (29.6 to 32.9)', { text: '31.1', fails: false }, 'yes'],
        ['2', 'x95, µm', '31 (29.6 to 32.9)', { text: '33.4', fails: true }, 'NO'],
      ],
      notes: ['Of 2 readings predicted with a 95 % band 1 lay inside.'],
    });
  });
  test('nothing predicted, no table', () => {
    expect(foretoldTable({ readings: [], inside: 0, of: 0 })).toBeUndefined();
  });
});

describe('what is known of the dust', () => {
  test('nothing, one value missing, and all of them', async () => {
    const all = ['kst=120 bar m/s', 'highestPressure=8.5 bar', 'lowerLimit=60 g/m^3', 'ignitionEnergy=12 mJ'];
    const rest = ['cloudTemperature=420 degC', 'layerTemperature=250 degC', 'oxygenLimit=11 %'];
    const stated = (of: readonly string[]) => demo(...of.map((each) => `plant.dust.${each}`));
    expect(dustWords(await demo())).toMatch(
      /^Nothing is stated of how this dust burns: K_St, p_max, LEL, MIE, MIT, LIT, LOC are an unknown hazard\./,
    );
    expect(dustWords(await stated([...all, rest[0]!, rest[1]!]))).toMatch(
      /^Not stated of this dust: LOC is an unknown hazard\. Treat it as explosible/,
    );
    expect(dustWords(await stated([...all, ...rest]))).toBe(
      'Test values of the dust are stated: plant --safety compares the operating point with them.',
    );
  });
});

test('a setting as it is typed again has its unit, and a pure number has none', () => {
  expect(typedSetting({ path: 'rotorSpeed', value: 95.5, shownIn: 'rpm' })).toBe('rotorSpeed=5730 rpm');
  expect(typedSetting({ path: 'wheel', value: 'long-leaning', shownIn: '1' })).toBe('wheel=long-leaning');
  expect(typedSetting({ path: 'wheel.coefficients.sharpness', value: 0.61, shownIn: '1' })).toBe(
    'wheel.coefficients.sharpness=0.61',
  );
});
