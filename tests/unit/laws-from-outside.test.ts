import { appendFileSync, copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  InputError,
  loadLaws,
  loadScenario,
  openSweep,
  outcomeOf,
  packageCatalogue,
  parseScenario,
  QUANTITIES,
  registerLaws,
  releaseLaws,
  reportText,
  resultOf,
  runReport,
  type Scenario,
  solvePoint,
  sweepScenario,
  toCase,
} from '../../src/index.ts';
import { FRAGMENT_LAWS } from '../../src/model/breakage/fragments/index.ts';
import { SELECTION_LAWS } from '../../src/model/breakage/selection/index.ts';
import { FEED_LAWS } from '../../src/model/psd/feed/index.ts';
import { EFFICIENCY_LAWS } from '../../src/model/wheel/efficiency/index.ts';
import { DESIGNS } from '../../src/scenario/design/designs.ts';
import { asksFeedAtChoke } from '../../src/scenario/outcome/spec.ts';
import { byHand } from '../../src/viz/compare/by-hand.ts';
import { grindloopApart as grindloop } from '../program.ts';

const OWN = 'tests/fixtures/laws/my-laws.js';
const FAULTY = 'tests/fixtures/laws/faulty-laws.js';
const CASE = 'tests/fixtures/laws/own-laws.yaml';
const PROGRAM = DESIGNS.slice();
const COUNTS = [SELECTION_LAWS, FRAGMENT_LAWS, EFFICIENCY_LAWS, FEED_LAWS].map(
  (laws) => Object.keys(laws).length,
);

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'own laws '));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
  releaseLaws({ name: 'the same again' });
  releaseLaws({ name: 'my-laws.js' });
  // test files share a process: nothing may be left
  expect(DESIGNS).toEqual(PROGRAM);
  expect(
    [SELECTION_LAWS, FRAGMENT_LAWS, EFFICIENCY_LAWS, FEED_LAWS].map((laws) => Object.keys(laws).length),
  ).toEqual(COUNTS);
  expect(QUANTITIES.some(({ name }) => name === 'finesEnergy')).toBe(false);
});

const IMPACT = (law: string): string =>
  `selection: { law: ${law}, friability: 0.9 kg/(J m), threshold: 0.02 J m/kg }, fragments: { law: ${law}, exponent: 0.9, finesScale: 1 um }`;

const scenarioOf = (laws: string): Scenario =>
  parseScenario(
    `material: { from: organic-crystal${laws} }
feed: { law: log-normal, x50: 400 um, spread: 0.4 }
machine: pilot-300
settings: { rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: 2000 rpm, feedRate: 150 kg/h }`,
    packageCatalogue(),
  );

async function faultsOf(promise: Promise<unknown>): Promise<string[]> {
  const error = await promise.then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  expect(error).toBeInstanceOf(InputError);
  return (error as InputError).message.split('\n');
}

test('a faulty module is refused with everything wrong in it, and nothing of it is taken up', async () => {
  const faults = await faultsOf(loadLaws(FAULTY));
  const expected = [
    /gives selections; .*did you mean selection\?/,
    /selection law too-much: must give a probability from 0 to 1.*: 1\.\d+ at/,
    /selection law falling: must never fall with size up to a millimetre: it falls by/,
    /selection law failing: must break nothing where a hit has no speed: its code fails with "missing is not defined"/,
    /selection law impact: has a name that is taken by one of grindloop/,
    /selection law Bad Name: must have a name of small letters/,
    /selection law Bad Name: must have a source in words/,
    /fragment law whole: must have all fragments finer than the parent: 0 just below/,
    /grade-efficiency law off-cut: must pass one half at the cut size: 0\.333333/,
    /grade-efficiency law off-cut: must have the sharpness x25\/x75 it is given/,
    /feed law endless: must leave less than 1e-6 above its top: 0\.0909091/,
    /design random: must give the same point for the same index/,
    /design random: must leave its earlier points where they are/,
    /quantity x50: must not have the name of a percentile/,
    /quantity x50: must have a label, one of .*: its label is guessed/,
    /quantity x50: must show the quantity in a unit .*kg is of kg, not of m/,
    /quantity x50: .*: it is Infinity/,
  ];
  for (const pattern of expected) expect(faults.filter((fault) => pattern.test(fault))).not.toEqual([]);
  expect(Object.keys(SELECTION_LAWS)).not.toContain('too-much');
  expect(DESIGNS).toEqual(PROGRAM);
});

test('what is no module of laws is refused in words', async () => {
  const write = (name: string, text: string): string => {
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };
  const files = [
    join(folder, 'absent.js'),
    write('broken.js', 'export const selection = [;'),
    write('importing.js', "import './other.js';\nexport const selection = [];"),
    write('empty.js', ''),
  ];
  const faults = await faultsOf(loadLaws(...files));
  expect(faults).toHaveLength(4);
  expect(faults[0]).toMatch(/absent\.js: cannot be read: there is no such file/);
  expect(faults[1]).toMatch(/broken\.js: is not a JavaScript module of one file/);
  expect(faults[2]).toMatch(/importing\.js: is not a JavaScript module of one file/);
  expect(faults[3]).toMatch(/empty\.js: gives nothing; it must export one of selection, /);
});

test('a law of the program under another name gives the same results to the last digit', async () => {
  const again = <L extends { name: string }>(law: L): L => ({ ...law, name: `${law.name}-again` });
  await registerLaws(
    {
      selection: [again(SELECTION_LAWS.impact!)],
      fragments: [again(FRAGMENT_LAWS.impact!)],
      efficiency: [again(EFFICIENCY_LAWS['rosin-rammler']!)],
      feed: [again(FEED_LAWS['log-normal']!)],
    },
    { name: 'the same again', version: '1' },
  );
  const renamed = parseScenario(
    `material: { from: organic-crystal, ${IMPACT('impact-again')} }
feed: { law: log-normal-again, x50: 400 um, spread: 0.4 }
machine: { from: pilot-300, wheels: { medium-leaning: { efficiency: rosin-rammler-again } } }
settings: { rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: 2000 rpm, feedRate: 150 kg/h }`,
    packageCatalogue(),
  );
  const results = [scenarioOf(`, ${IMPACT('impact')}`), renamed].map((scenario) => {
    const point = solvePoint(toCase(scenario));
    return ['x10', 'x50', 'x95', 'passes', 'specificEnergy'].map((name) => resultOf(point, name));
  });
  expect(results[1]).toEqual(results[0]);
  expect(renamed.warnings.map(({ code }) => code)).toContain('law-from-outside');
});

test('a module of one file gives all six kinds, and everything says where they come from', async () => {
  await loadLaws(OWN);
  await loadLaws(OWN); // once more changes nothing
  const twice = await faultsOf(
    registerLaws({ selection: [SELECTION_LAWS.stretched!] }, { name: 'other', version: '1' }),
  );
  expect(twice).toEqual([
    'other: selection law stretched: has a name that is taken by one of my-laws.js; choose another',
  ]);
  // a quantity of a module may read the feed at choke: it is looked for wherever one is read
  expect(asksFeedAtChoke({ quantities: ['finesEnergy'] })).toBe(true);
  expect(asksFeedAtChoke({ quantities: ['netEnergy'] })).toBe(false);
  const scenario = await loadScenario(CASE);
  const [note] = scenario.warnings.filter(({ code }) => code === 'law-from-outside');
  expect(note!.message).toMatch(
    /^from my-laws\.js \([0-9a-f]{12}\), not part of grindloop: selection law stretched, fragment law arch, feed law smooth, grade-efficiency law steep-fine, design star, quantity finesEnergy$/,
  );
  const point = solvePoint(toCase(scenario));
  const outcome = outcomeOf(scenario, point);
  const { grindingPower } = (point as Extract<typeof point, { status: 'steady' }>).state.conditions;
  const fines = resultOf(point, 'passing(10 um)');
  const energy = (outcome as { added?: Record<string, number> }).added!.finesEnergy_kWh_per_t!;
  const flow = scenario.settings.feedRate * fines;
  // the first class edge at or above 10 µm
  expect(energy * 3600).toBeLessThanOrEqual(grindingPower / flow);
  expect(energy * 3600).toBeGreaterThan((0.8 * grindingPower) / flow);
  const report = runReport(scenario, { version: '0', date: '2026-01-01', audience: 'engineer' });
  expect(report.data.live).toBeUndefined();
  const sliders = byHand(scenario);
  expect(sliders.data.live).toBeUndefined();
  expect(JSON.stringify(sliders.html)).toContain('This page computes nothing new');
  expect(reportText(report)).toMatch(
    /This page computes nothing new, because it cannot carry the laws from my-laws\.js/,
  );
});

test('a calibration made with laws that are missing or changed is refused', async () => {
  const calibrated = (laws: string) => () =>
    parseScenario('material: organic-crystal\nmachine: pilot-300\ncalibration: cal.yaml\n', {
      ...packageCatalogue(),
      readFile: () => `laws: { ${laws} }\nvalues: {}\n`,
    });
  expect(calibrated('theirs.js: abc')).toThrow(
    /calibration.*: cal\.yaml was fitted with laws from theirs\.js \(abc\), which is not loaded; add --with theirs\.js/,
  );
  expect(calibrated('my-laws.js: abc')).toThrow(
    /cal\.yaml was fitted with laws from my-laws\.js \(abc\), which has changed since \(now [0-9a-f]{12}\); load the file as it was, or fit again/,
  );
});

test('threads load the module too, and the store knows which one it was', async () => {
  const scenario = await loadScenario(CASE);
  const [alone, threads] = [join(folder, 'alone'), join(folder, 'threads')];
  await sweepScenario(scenario, alone);
  const said = await grindloop('sweep', CASE, '--with', OWN, '-o', threads, '--threads', '2');
  expect(said.err).not.toMatch(/bug/);
  expect(said.code).toBe(0);
  const rows = async (out: string) => {
    const reader = await openSweep(out);
    const { count, values } = await reader.rows();
    reader.close();
    return { count, values };
  };
  const [one, two] = [await rows(alone), await rows(threads)];
  expect(one.count).toBe(5);
  expect(two).toEqual(one);
  const without = await grindloop('sql', threads, 'select 1');
  expect(without.err).toMatch(
    /was swept with laws from my-laws\.js \([0-9a-f]{12}\), which is not loaded; add --with my-laws\.js/,
  );
  const changed = join(folder, 'my-laws.js');
  copyFileSync(OWN, changed);
  appendFileSync(changed, '// changed\n');
  const other = await grindloop('report', threads, '--with', changed);
  expect(other.err).toMatch(
    /which has changed since \(now [0-9a-f]{12}\); load the file as it was, or sweep again/,
  );
  expect([without.code, other.code]).toEqual([1, 1]);
  const right = await grindloop(
    'sql',
    threads,
    'select count(*) n, min(finesEnergy_kWh_per_t) least from points',
    '--csv',
    '--with',
    OWN,
  );
  expect(right.out).toBe(`n,least\n5,${Math.min(...one.values.finesEnergy_kWh_per_t!)}\n`);
});

test('laws registered in code cannot reach threads, and say so', async () => {
  const scenario = parseScenario(
    `material: { from: organic-crystal, ${IMPACT('impact-again')} }
feed: { law: log-normal, x50: 400 um, spread: 0.4 }
machine: pilot-300
settings: { rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: 2000 rpm, feedRate: 150 kg/h }
sweep: { design: one-at-a-time, factors: { feedRate: { from: 100 kg/h, to: 200 kg/h, steps: 2 } } }`,
    packageCatalogue(),
  );
  const faults = await faultsOf(sweepScenario(scenario, join(folder, 'code'), { threads: 1 }));
  expect(faults).toEqual([
    'threads: must be 0: the laws of the same again were registered in code; put them into a file and load it with loadLaws',
  ]);
});
