import { expect, test } from 'vitest';
import { fitDocument } from '../../src/answers/fit/fit-document.ts';
import { type Graded, gradeDocument } from '../../src/answers/grade/grade-document.ts';
import { plantDocument, safetyDocument } from '../../src/answers/plant/plant-document.ts';
import { readDocument } from '../../src/answers/read/read-document.ts';
import { runAnswer, runJson, runText } from '../../src/answers/run-text.ts';
import { scaleDocument } from '../../src/answers/scale/scale-document.ts';
import { timeDocument } from '../../src/answers/time/time-document.ts';
import { filesBeside } from '../../src/scenario/load.ts';
import { machineAlone } from '../../src/scenario/machine-alone.ts';
import { readMeasurement } from '../../src/scenario/measurement/read-measurement.ts';
import { averageRepeats } from '../../src/scenario/measurement/replicates.ts';
import type { TrialReport } from '../../src/trials/report-data.ts';
import { demo, requiring } from './cases.ts';
import { asText, wholeText, withoutSamples } from './whole.ts';

/** Every word and number of an answer against a text that was read; `-u` writes it anew, to be read again. */
const same = (text: string, name: string) => expect(text).toMatchFileSnapshot(`expected/${name}.txt`);

const FAN =
  'plant.fan={ law: parabola, shutOff: 11 kPa, flow: 1800 m^3/h, pressure: 8 kPa, motorPower: 7.5 kW }';
const DUST = [
  'plant.dust.kst=120 bar m/s',
  'plant.dust.highestPressure=8.5 bar',
  'plant.dust.lowerLimit=60 g/m^3',
  'plant.dust.ignitionEnergy=12 mJ',
  'plant.dust.cloudTemperature=420 degC',
  'plant.dust.layerTemperature=250 degC',
  'plant.dust.oxygenLimit=11 %',
];

test('plant: units sized for the point, nothing known of the dust', async () => {
  await same(wholeText(plantDocument(await demo())), 'plant');
});

test('plant: units given, the dust tested, the product limited', async () => {
  const scenario = await demo(
    FAN,
    ...DUST,
    'plant.product.highestTemperature=60 degC',
    'plant.product.criticalHumidity=65 %',
    'plant.shafts.rotorInertia=3 kg m^2',
    'plant.shafts.wheelInertia=0.4 kg m^2',
    'plant.shafts.bearingTorque=0.5 N m',
    'plant.filter.bags=40',
    'plant.feedLine.diameter=150 mm',
  );
  await same(wholeText(plantDocument(scenario)), 'plant-given');
  const { notes, sections, answer, opening } = safetyDocument(scenario);
  expect([opening, notes]).toEqual(['Screening of dust and rotating parts:', []]);
  await same(asText({ answer, sections }), 'plant-safety');
});

test('plant: a mill that chokes, and air that no fan can draw', async () => {
  await same(wholeText(plantDocument(await demo('settings.feedRate=5000 kg/h'))), 'plant-choked');
  const choked = safetyDocument(await demo('settings.feedRate=5000 kg/h'));
  expect([choked.found, choked.sections]).toEqual([false, []]);
});

test('time: start, a change of feed and a trip', async () => {
  const scenario = await demo(
    'time={ duration: 12 min, step: 3 s, events: [ { at: 5 min, feedRate: 250 kg/h }, { at: 9 min, trip: wheel } ] }',
  );
  await same(wholeText(timeDocument(scenario, true)), 'time');
});

test.each([
  ['meets', ['settings.wheelSpeed=2200 rpm', 'settings.feedRate=150 kg/h'], undefined],
  ['misses', ['settings.wheelSpeed=1600 rpm'], undefined],
  ['chokes', ['settings.feedRate=5000 kg/h'], undefined],
  ['no-spec', [], []],
] as const)('run: %s', async (name, set, spec) => {
  const scenario = await demo(...set);
  const run = runAnswer(spec ? requiring(scenario, ...spec) : scenario);
  const { assumptions, ...json } = JSON.parse(runJson(run));
  expect(assumptions.length).toBeGreaterThan(50);
  await same(withoutSamples(`${runText(run)}\n---\n${asText(json)}`), `run-${name}`);
});

test('scale: the same product on the larger machine', async () => {
  const other = machineAlone('production-600', filesBeside('scenarios/x.yaml'));
  await same(wholeText(scaleDocument(await demo('settings.feedRate=200 kg/h'), other, {})), 'scale');
  const choked = scaleDocument(await demo('settings.feedRate=5000 kg/h'), other, {});
  await same(wholeText(choked), 'scale-choked');
});

const GRADED: Graded = {
  split: {
    sizes: [],
    feed: [],
    fines: [],
    coarse: [],
    finesYield: 0.325,
    yieldError: 0.0055,
    given: false,
    closes: true,
    closure: { largest: -0.044, at: 20e-6, rms: 0.02 },
  },
  points: [
    { size: 10e-6, toCoarse: 0.12, weight: 0.2 },
    { size: 30e-6, toCoarse: 0.55, weight: 0.1 },
  ],
  fit: {
    law: 'rosin-rammler',
    cutSize: 30e-6,
    sharpness: 0.62,
    bypass: 0.1,
    leakage: 0,
    atBound: [],
    errors: { logCut: 0.018, sharpness: 0.0045, bypass: 0.0041, leakage: 0 },
    misfit: 0.012,
  },
  estimate: 29e-6,
  entry: 'efficiency: rosin-rammler\n',
};

test('grade: curves that close, and a fit at the end of its range', async () => {
  await same(wholeText(gradeDocument(GRADED, 'Grade efficiency: a, b, c')), 'grade');
  const fit = { ...GRADED.fit, leakage: 0.02, atBound: ['sharpness', 'bypass'] };
  const bound = gradeDocument({ ...GRADED, fit }, 'Grade efficiency');
  expect([bound.found, bound.notes, bound.answer[1]]).toEqual([
    false,
    [],
    'sharpness and bypass ended at the end of the range that is searched, so there is no entry: check the three files and the law.',
  ]);
});

test('read: repeats of one stream, with what the file states', async () => {
  const text = (x: number) =>
    `size um;undersize vol %\n1;2\n5;${10 + x}\n10;${22 + x}\n20;${45 + x}\n50;${80 + x}\n100;97\n200;100\n`;
  const readings = [0, 1].map((x) => {
    const file = `run-${x}.csv`;
    return { file, reading: readMeasurement(new TextEncoder().encode(text(x)), file, { method: 'laser' }) };
  });
  const samples = readings.flatMap(({ reading }) => reading.samples);
  const averaged = averageRepeats(samples);
  if (typeof averaged === 'string') throw new Error(averaged);
  await same(wholeText(readDocument({ readings, samples, averaged, density: 1450 })), 'read');
  const one = wholeText(
    readDocument({ readings, samples: [samples[0]!], averaged: undefined, density: undefined }),
  );
  await same(one, 'read-one');
});

const COEFFICIENT = { unit: '1', before: 0.3, after: 0.05, state: 'settled', untried: false, atBound: false };
const RUN = {
  flags: [],
  fits: true,
  chiSquare: 21.4,
  residuals: 20,
  minutes: 6,
  outletAtRest_C: 44,
  closure: { gap: -0.012, closes: true },
};
const REPORT = {
  ignored: ['operator'],
  foretold: {
    of: 2,
    inside: 1,
    readings: [
      { run: 'A', reading: 'x50', unit: 'um', low: 25, median: 30, high: 36, measured: 31, inside: true },
      {
        run: 'A',
        reading: 'outletTemperature',
        unit: 'degC',
        low: 2,
        median: 3,
        high: 4,
        measured: 5,
        inside: false,
      },
    ],
  },
  heldOut: { of: 0, inside: 0, readings: [] },
  fit: {
    chiSquare: 22.35,
    freedom: 53.9,
    probability: 0.5,
    lackOfFit: false,
    suspects: [],
    suspicion: null,
    discrepancy: 0.04,
    starts: 8,
    agreeing: 7,
    effective: 99,
    combinations: 3.4,
    leftAsGiven: ['friability is left as given.'],
  },
  coefficients: [
    {
      ...COEFFICIENT,
      symbol: 'f',
      path: 'material.selection.friability',
      unit: 'kg/(J m)',
      prior: 0.9,
      value: 0.6,
      low: 0.5,
      high: 0.7,
    },
    {
      ...COEFFICIENT,
      symbol: 'χ_c',
      path: 'machine.wheels.medium-leaning.coefficients.cutFactor',
      prior: 1,
      value: 1.2,
      low: 1.1,
      high: 1.3,
      state: 'weak',
    },
    {
      ...COEFFICIENT,
      symbol: 'κ_0',
      path: 'machine.wheels.long-leaning.coefficients.sharpness',
      prior: 0.6,
      value: 0.65,
      low: 0.5,
      high: 0.8,
      untried: true,
      atBound: true,
    },
  ],
  correlations: { paths: [], matrix: [] },
  boundPairs: [{ one: 'f', other: 'χ_c', correlation: 0.97 }],
  idleNumber: null,
  runs: [
    {
      ...RUN,
      name: 'A',
      power_kW: { measured: 9.1, model: 9.3 },
      outletTemperature_C: { measured: 33, model: 30 },
      percentiles: [1, 30, 80, 95].map((size, k) => ({ share: k, measured: size, model: 1.1 * size })),
    },
    {
      ...RUN,
      name: 'B',
      flags: ['no idle power'],
      fits: false,
      chiSquare: null,
      closure: null,
      power_kW: { measured: null, model: 9.3 },
      outletTemperature_C: { measured: null, model: 30 },
      percentiles: [1, 30, 80, 95].map((size, k) => ({ share: k, measured: null, model: size })),
    },
    {
      ...RUN,
      name: 'C',
      residuals: 0,
      closure: { gap: 0.065, closes: false },
      minutes: 2,
      power_kW: { measured: 8, model: 8.2 },
      outletTemperature_C: { measured: 28, model: 29 },
      percentiles: [1, 30, 80, 95].map((size, k) => ({ share: k, measured: size, model: size })),
    },
  ],
};

test('fit: every sentence, table and figure of a report', async () => {
  const report = REPORT as unknown as TrialReport;
  const { keys: _, ...document } = fitDocument(report, {
    title: 'Lot 1',
    job: { lot: '4711' },
    calibration: 'cal.yaml',
  });
  await same(wholeText({ ...document, keys: {} }), 'fit');
  const bad = {
    ...REPORT,
    fit: { ...REPORT.fit, lackOfFit: true, probability: 0.995 },
    heldOut: REPORT.foretold,
    foretold: REPORT.heldOut,
  };
  const other = fitDocument(bad as unknown as TrialReport, { title: 'Lot 2', job: undefined });
  expect(other.found).toBe(false);
  expect('job' in other).toBe(false);
  expect(other.sections.map(({ id }) => id)).toEqual(['coefficients', 'runs', 'held-out']);
  expect(other.sections.at(-1)!.heading).toBe('Runs left out, predicted from the others');
  expect(other.answer.at(-1)).toBe('No calibration was written; -o CAL writes it.');
});
