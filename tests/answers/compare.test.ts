import { beforeAll, describe, expect, test } from 'vitest';
import { compareDocument } from '../../src/answers/compare/compare-document.ts';
import { rangeText, targetWords } from '../../src/answers/compare/target-words.ts';
import { geometryTable, runningTable } from '../../src/answers/compare/wheel-tables.ts';
import { HELD, INPUTS, wheelFindings } from '../../src/answers/compare/wheel-words.ts';
import { documentJson } from '../../src/answers/document-json.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import { toCase, valueAt, withValue } from '../../src/scenario/operating-point.ts';
import { quantityNamed } from '../../src/scenario/outcome/quantities.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { isProblem } from '../../src/scenario/units/unit-problem.ts';
import { comparedAt, furthestApart } from '../../src/search/compare/compared.ts';
import { type Comparison, compareWheels } from '../../src/search/compare/comparison.ts';
import { targetValue } from '../../src/search/compare/match.ts';
import { type Matching, matchingOf, matchingProblem } from '../../src/search/compare/target.ts';

const DEMO = 'scenarios/erythritol.yaml';
const WHEELS = 'machine.wheels';

let demo: Scenario;
let plain: Comparison;
beforeAll(async () => {
  demo = await loadScenario(DEMO);
  plain = compareWheels(demo);
});

function matching(text: string, at?: string): Matching {
  const found = matchingOf(text, at);
  if (isProblem(found)) throw new Error(found.problem);
  return found;
}

/** A comparison of the demo's wheels as `change` makes them. */
async function compared(...set: string[]) {
  const scenario = await loadScenario(DEMO, { set });
  return { scenario, comparison: compareWheels(scenario, matching('x95', '72 um')) };
}

describe('what the wheels make', () => {
  test('is the same where x10, x50, x90 and x99 agree within 2 %', () => {
    expect(wheelFindings(demo, plain)).toEqual([
      expect.stringMatching(
        /^Matched at x95 [\d.]+ µm, all wheels give the same product: x10, x50, x90 and x99 agree within 2 %\. They differ in wheel speed, \d+ to \d+ rpm, and in the power and pressure loss of the wheel\. With equal sharpness, bypass and leakage, geometry acts through the cut alone\.$/,
      ),
      'Slowest wheel first: long leaning, medium leaning and medium radial.',
      'Long leaning, medium leaning and medium radial cannot be ranked: their differences are within a 20 % error of the cut coefficients.',
      HELD,
      INPUTS,
    ]);
  });

  test('is told apart by the percentile that differs most', () => {
    const at = (x10: number, x50: number) => ({ x10, x50, x90: 60, x99: 90 });
    expect(furthestApart([at(5, 30), at(5.5, 30.3)]).name).toBe('x10');
    expect(furthestApart([at(5, 30), at(5.5, 30.3)]).share).toBeCloseTo(0.1, 12);
  });

  test('differs where a coefficient does, and the words say which', async () => {
    const { scenario, comparison } = await compared(`${WHEELS}.long-leaning.coefficients.sharpness=0.72`);
    const [first] = wheelFindings(scenario, comparison);
    const { name, share } = furthestApart(
      comparison.wheels.map(({ matched }) => {
        if (!matched.reached) throw new Error('every wheel was to reach 72 µm');
        return comparedAt(matched, 1e-5);
      }),
    );
    expect(share).toBeGreaterThan(0.02);
    const percent = Number((100 * share).toPrecision(2));
    expect(first).toContain(`the products differ, most in ${name}, by ${percent} %.`);
    expect(first).toMatch(/The wheels are not given equal sharpness\.$/);
    expect(first).not.toContain('same product');
  });

  test('is not called the same where what is matched does not determine it', () => {
    const comparison = compareWheels(demo, { ...matching('span', '1.9') });
    const [first] = wheelFindings(demo, comparison);
    if (first!.includes('the products differ'))
      expect(first).toContain(
        'span does not determine the product: wheels reach the same value at different finenesses.',
      );
    else expect(first).toContain('agree within 2 %');
  });
});

describe('ranges and unknown numbers of a wheel', () => {
  test('widen its own figures, in the table and in the words, and no other wheel’s', async () => {
    const { scenario, comparison } = await compared(
      `${WHEELS}.long-leaning.coefficients.sharpness=unknown`,
      `${WHEELS}.long-leaning.coefficients.bypass=0..0.2`,
    );
    const [radial, , long] = ['medium-radial', 'medium-leaning', 'long-leaning'].map(
      (name) => comparison.wheels.find((wheel) => wheel.name === name)!,
    );
    const width = (of: { low: number; high: number }) => of.high / of.low - 1;
    expect(width(long!.bands!.of.x10)).toBeGreaterThan(0.05);
    expect(width(radial!.bands!.of.x10)).toBeLessThan(0.01);
    expect(long!.bands!.of.fines.high).toBeGreaterThan(1.02 * long!.bands!.of.fines.low);
    const words = wheelFindings(scenario, comparison).join(' ');
    expect(words).toMatch(
      /not resolved whether all wheels give the same product: with each range at its middle x10, x50, x90 and x99 agree within 2 %\./,
    );
    expect(words).toMatch(
      /The long leaning wheel is given with wheel sharpness 0\.4 to 0\.8 and wheel bypass 0 to 0\.2, so its product is not resolved: x\d+ lies between [\d.]+ µm and [\d.]+ µm\./,
    );
    expect(words).not.toContain('geometry acts through the cut alone');
  });

  test('a range gives other figures than its middle', async () => {
    const middle = await compared(`${WHEELS}.long-leaning.geometry.height=95 mm`);
    const range = await compared(`${WHEELS}.long-leaning.geometry.height=80..110 mm`);
    const speed = ({ comparison }: typeof middle) =>
      comparison.wheels.find(({ name }) => name === 'long-leaning')!.bands!.of.speed;
    expect(speed(range).high - speed(range).low).toBeGreaterThan(
      1.005 * (speed(middle).high - speed(middle).low),
    );
    expect(wheelFindings(range.scenario, range.comparison).join(' ')).toContain('and the ranges given');
    expect(wheelFindings(middle.scenario, middle.comparison).join(' ')).not.toContain('the ranges given');
  });

  test('a range that is not of a wheel is held at its middle for all, and that is said', async () => {
    const { scenario, comparison } = await compared(
      'material.density=1400..1500 kg/m^3',
      'machine.rotor.coefficients.hitFactor=0.8..1.2',
    );
    expect(wheelFindings(scenario, comparison)).toContain(
      'Held at the middle of their ranges for all wheels, so that no band here counts them: density 1400 kg/m³ to 1500 kg/m³ and rotor hit factor 0.8 to 1.2.',
    );
    expect(wheelFindings(demo, plain).join(' ')).not.toContain('Held at the middle');
    // no note says that they widen a band
    expect(compareDocument(scenario, comparison).notes.join(' ')).not.toContain('widens every band');
  });

  test('a speed band that ends beyond the highest speed reads not reached, and it is said', async () => {
    const needed = plain.wheels.find(({ name }) => name === 'medium-radial')!.matched.speed;
    const { scenario, comparison } = await compared(
      'sweep.factors.wheelSpeed.to=2000 rpm',
      `${WHEELS}.medium-radial.maxSpeed=${Math.ceil(60 * needed * 1.05)} rpm`,
    );
    const row = runningTable(comparison).rows.find(([name]) => name === 'medium radial')!;
    expect(row[1]).toMatch(/^\d+ \(\d+ to not reached\)$/);
    expect(wheelFindings(scenario, comparison).join(' ')).toMatch(
      /The medium radial wheel may not reach x95 72 µm: not with the least favourable .*wheel cut factor/,
    );
  });
});

test('a wheel that no trial ran is named with where it lies, and one within the trials is not', () => {
  const rims = plain.wheels.map(({ name, matched }) => {
    if (!matched.reached) throw new Error('every wheel was to reach the size');
    return { name, rim: Math.PI * demo.machine.wheels[name]!.geometry.diameter * matched.speed };
  });
  const ran = rims.find(({ name }) => name === 'medium-leaning')!;
  const calibration = {
    trials: ['A'],
    of: {
      materials: ['erythritol'],
      machine: demo.machine.name,
      wheels: [ran.name],
      covered: {
        rotorTip: [1, 999],
        wheelRim: [0.99 * ran.rim, 1.01 * ran.rim],
        feedRate: [0, 9],
        airFlow: [0, 9],
      },
    },
  };
  const of = { ...demo, calibration } as never as Scenario;
  const wheels = plain.wheels.map((wheel) =>
    wheel.matched.reached
      ? { ...wheel, matched: { ...wheel.matched, scenario: { ...wheel.matched.scenario, calibration } } }
      : wheel,
  );
  const said = wheelFindings(of, { ...plain, wheels } as never as Comparison);
  const beyond = said.filter((line) => line.includes('beyond the settings tried'));
  expect(beyond).toHaveLength(2);
  expect(beyond[0]).toMatch(
    /^Medium radial lies beyond the settings tried: wheel medium-radial \(not tried\); wheel rim speed/,
  );
  expect(beyond[1]).toMatch(
    /^Long leaning lies beyond the settings tried: wheel long-leaning \(not tried\); wheel rim speed/,
  );
  expect(wheelFindings(demo, plain).some((line) => line.includes('settings tried'))).toBe(false);
});

test('two wheels equal in every number are the same wheel', async () => {
  const { scenario, comparison } = await compared(`${WHEELS}.twin={ from: long-leaning }`);
  const words = wheelFindings(scenario, comparison);
  expect(words).toContain('Twin and long leaning are the same wheel: every number of theirs is equal.');
  expect(words.join(' ')).toMatch(/Slowest wheel first: long leaning, medium leaning and medium radial\./);
  expect(words.filter((line) => line.includes('cannot be ranked')).join(' ')).not.toMatch(/twin/i);
});

describe('what wheels are matched in', () => {
  test.each(['rotorSpeed', 'feedRate', 'tipSpeed', 'feedRate + feedRate'])(
    '%s does not move with the wheel',
    (text) => {
      expect(matchingProblem(demo, matching(text))).toBe(
        `${text} does not change with the speed of the wheel, so wheels cannot be matched in it; name a size or a share of the product, e.g. x95, "passing(75 um)" or x90/x10`,
      );
    },
  );

  test('the speed itself matches nothing; a size, a share and a ratio do', () => {
    expect(matchingProblem(demo, matching('wheelSpeed'))).toMatch(
      /^wheels matched in wheelSpeed turn at a speed/,
    );
    for (const text of ['x95', 'passing(20 um)', 'x90/x10', 'wheelPower'])
      expect(matchingProblem(demo, matching(text)), text).toBeUndefined();
  });

  test.each([
    ['passing(75 um)', '95 %', '95 % below 75 µm'],
    ['oversize(75 um)', '5 %', '5 % above 75 µm'],
    ['x90/x10', '11.5', 'x90/x10 = 11.5'],
    ['x95', '65 um', 'x95 65 µm'],
  ])('%s at %s is reached to 1e-6', (text, at, words) => {
    const comparison = compareWheels(demo, matching(text, at));
    expect(targetWords(comparison)).toBe(words);
    const reached = comparison.wheels.filter(({ matched }) => matched.reached);
    expect(reached.length).toBeGreaterThan(0);
    for (const { matched } of reached) {
      if (!matched.reached) continue;
      expect(
        Math.abs(targetValue(comparison.target, matched.solved) / comparison.target.value - 1),
      ).toBeLessThan(1e-6);
    }
  });

  test('what is not understood is said', () => {
    expect(isProblem(matchingOf('x95x'))).toBe(true);
    expect(isProblem(matchingOf('x95', '65 kg'))).toBe(true);
  });
});

test('a range is written in brackets where it is worth showing', () => {
  expect(rangeText(25, { low: 20, high: 30 }, 'rpm')).toBe('1500 (1200 to 1800)');
  expect(rangeText(25, { low: 20, high: Number.POSITIVE_INFINITY }, 'rpm')).toBe(
    '1500 (1200 to not reached)',
  );
  expect(rangeText(25, { low: 24.99, high: 25.01 }, 'rpm')).toBe('1500');
});

test('the geometry table is what the model says of 10 % more, not of its slope', () => {
  const wheel = 'long-leaning';
  const { matched } = plain.wheels.find(({ name }) => name === wheel)!;
  const path = `${WHEELS}.${wheel}.geometry.height`;
  const cut = (scenario: Scenario) => {
    const point = solvePoint(toCase(scenario));
    if (point.status === 'choked' || !matched.reached) throw new Error('was not to choke');
    return quantityNamed('cutSize')!.of(point);
  };
  if (!matched.reached) throw new Error('was to be reached');
  const taller = withValue(matched.scenario, path, 1.1 * (valueAt(matched.scenario, path) as number));
  const percent = 100 * (cut(taller) / cut(matched.scenario) - 1);
  const table = geometryTable(plain, 'cut');
  const column = table.columns.findIndex(({ name }) => name === 'long leaning');
  const row = table.rows.find(([name]) => name === 'height, +10 %')!;
  expect(row[column]).toBe(`−${Number(Math.abs(percent).toPrecision(2))}`);
});

test('the document says what was held wherever geometry is judged, and its JSON has the bands', () => {
  const document = compareDocument(demo, plain);
  expect(document.answer).toContain(HELD);
  // what it relies on is said before anything else, and the dust on the terminal and in JSON too
  expect(document.answer[1]).toMatch(
    /^The comparison relies on \d+ coefficients not confirmed by any trial; of these, x95 depends most on /,
  );
  expect(document.cautions.at(-1)).toBe(
    'Nothing is stated of how this dust burns: K_St, p_max, LEL, MIE, MIT, LIT, LOC are an unknown hazard. Treat it as explosible until tests on your own dust say otherwise.',
  );
  expect(document.sections.find(({ id }) => id === 'geometry')!.sentences!.join(' ')).toContain(HELD);
  const json = JSON.parse(documentJson(document));
  const own = json.wheels.find(({ name }: { name: string }) => name === 'medium-leaning');
  expect(own.speed_rpm.value).toBeCloseTo(2000, 3);
  expect(own.speed_rpm.low).toBeLessThan(1900);
  expect(own.x50_um.value).toBeGreaterThan(own.x50_um.low - 1e-9);
  expect(json.matched).toMatchObject({ by: 'x95', unit: 'um' });
});

test('other speeds at which a wheel has the same value are named, and why this one is shown', () => {
  const [first, ...rest] = plain.wheels;
  if (!first!.matched.reached) throw new Error('the demo reaches its target');
  const twice = {
    ...first!,
    matched: { ...first!.matched, speed: 2000 / 60, alsoAt: [2500 / 60, 3100 / 60] },
  };
  const words = wheelFindings(demo, { ...plain, wheels: [twice, ...rest] });
  expect(words).toContainEqual(
    expect.stringMatching(
      /^The [a-z ]+ wheel has x95 [\d.]+ µm also at 2500 rpm and 3100 rpm; shown is 2000 rpm, where the product is nearest to that of the file's settings\.$/,
    ),
  );
  expect(wheelFindings(demo, plain).join()).not.toMatch(/also at/);
});
