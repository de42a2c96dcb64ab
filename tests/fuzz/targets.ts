import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { InputError } from '../../src/scenario/errors.ts';
import { filesBeside, loadScenario } from '../../src/scenario/load.ts';
import { readMeasurement } from '../../src/scenario/measurement/read-measurement.ts';
import { toCase } from '../../src/scenario/operating-point.ts';
import { outcomeOf } from '../../src/scenario/outcome/outcome.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import { parseScenario } from '../../src/scenario/parse.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { readTrialLog } from '../../src/trials/log/file.ts';

/** What one run came to. */
export type Verdict = 'accepted' | 'refused';

/** Something to throw mutated text at; throws anything but an InputError where it is broken. */
export interface Target {
  readonly name: string;
  readonly seeds: readonly string[];
  readonly feed: (text: string) => Verdict | Promise<Verdict>;
}

const FILES = filesBeside('scenarios/fuzzed.yaml');
const scenarioSeeds = [
  'scenarios/erythritol.yaml',
  'scenarios/mineral-filler.yaml',
  'scenarios/catalogue/materials/sucrose.yaml',
].map((file) => readFileSync(file, 'utf8'));

function refusing(feed: () => void): Verdict {
  try {
    feed();
    return 'accepted';
  } catch (error) {
    return refusedInWords(error);
  }
}

function refusedInWords(error: unknown): Verdict {
  if (!(error instanceof InputError)) throw error;
  for (const { place, message } of error.faults) {
    if (place.trim() === '' || message === '' || /\n\s+at /.test(message))
      throw new Error(`a fault without words: ${place}: ${message}`);
  }
  if (error.faults.length === 0) throw new Error('refused without saying why');
  return 'refused';
}

/** A scenario that is accepted must be finite, positive where it must be, and solvable without an exception. */
function scenario(text: string, set: readonly string[] = []): Verdict {
  return refusing(() => {
    const checked = parseScenario(text, { ...FILES, set });
    const c = toCase(checked);
    for (const [path, value] of numbersIn(c, '')) {
      if (!Number.isFinite(value) && path !== '.loop.stages') throw new Error(`accepted ${path} = ${value}`);
    }
    if (!(c.settings.feedRate > 0 && c.air.flow > 0 && c.rotor.geometry.diameter > 0))
      throw new Error('accepted nonsense');
    if (c.loop.stages !== 1) return;
    const outcome = outcomeOf(checked, solvePoint(c));
    if (outcome.status === 'steady') {
      const { massClosure } = outcome.loop;
      if (!(massClosure! < 1e-11)) throw new Error(`mass closure ${massClosure}`);
    }
  });
}

function* numbersIn(node: unknown, path: string): Generator<[string, number]> {
  if (typeof node === 'number') yield [path, node];
  else if (typeof node === 'object' && node !== null) {
    for (const [key, value] of Object.entries(node)) yield* numbersIn(value, `${path}.${key}`);
  }
}

const BASE = scenarioSeeds[0]!;

const TRIALS = 'scenarios/data/trials';
const SIZES = '--- sizes\n';

/** A log, and after a mark the size file that its first run names; what is accepted must be sound, and solvable. */
async function trialLog(text: string, name: 'log.csv' | 'log.yaml'): Promise<Verdict> {
  const folder = mkdtempSync(join(tmpdir(), 'fuzz-log-'));
  const [log, sizes] = text.split(SIZES);
  writeFileSync(join(folder, name), log!);
  for (let run = 1; run <= 5; run++)
    writeFileSync(join(folder, `run-${run}.csv`), readFileSync(`${TRIALS}/run-${run}.csv`));
  if (sizes !== undefined) writeFileSync(join(folder, 'run-1.csv'), sizes);
  try {
    const { trials } = await readTrialLog(
      join(folder, name),
      await loadScenario('scenarios/erythritol.yaml'),
    );
    for (const { scenario: at, ...measured } of trials) {
      for (const [path, value] of numbersIn(measured, '')) {
        if (!Number.isFinite(value) || Math.abs(value) > 1e12) throw new Error(`accepted ${path} = ${value}`);
      }
      soundCase(at);
    }
    return 'accepted';
  } catch (error) {
    return refusedInWords(error);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function soundCase(scenario: Scenario): void {
  const c = toCase(scenario);
  for (const [path, value] of numbersIn(c, '')) {
    if (!Number.isFinite(value)) throw new Error(`accepted ${path} = ${value}`);
  }
  const { settings, air } = c;
  if (!(settings.feedRate > 0 && settings.rotorSpeed > 0 && air.flow > 0))
    throw new Error('accepted nonsense');
  if (!(air.temperature > 200 && air.temperature < 500))
    throw new Error(`accepted air of ${air.temperature} K`);
  solvePoint(c);
}

const CSV_LOG = readFileSync(`${TRIALS}/erythritol.csv`, 'utf8');
const RUN = readFileSync(`${TRIALS}/run-1.csv`, 'utf8');
const YAML_LOG = `title: three runs
motor: { noLoadCurrent: 10 A, ratedCurrent: 28 A }
errors: { feed: 1 %, product: 3 %, power: 4 % }
reading: { method: laser, basis: volume }
defaults: { wheel: medium-leaning, minutes: 4 min, airFlow: 1500 m^3/h, inletTemperature: 21 degC }
trials:
  - { trial: A, rotorSpeed: 5700 rpm, wheelSpeed: 30 Hz, feedRate: 200 kg/h, current: 18 A, idleCurrent: 12 A, sizes: run-1.csv }
  - { trial: B, rotorSpeed: 90 m/s, wheelSpeed: 1400 rpm, feed: 9.3 kg, product: 9.1 kg, power: 3.5 kW, sizes: [run-3.csv, run-2.csv] }
  - { trial: C, wheel: long-leaning, feedRate: 140 kg/h, outletTemperature: 38 degC, filter: 0.2 kg, remarks: warm }
`;

export const TARGETS: readonly Target[] = [
  { name: 'scenarios', seeds: scenarioSeeds, feed: (text) => scenario(text) },
  {
    name: 'command-line changes',
    seeds: [
      'settings.wheelSpeed=2400 rpm',
      'machine.wheels.medium-radial.geometry.height=70 mm',
      'spec.0=x95 <= 60 um',
      'feed={ law: rrsb, x63: 300 um, exponent: 1.1 }',
      'material.from=sucrose',
    ],
    feed: (text) => scenario(BASE, [text]),
  },
  {
    name: 'measured curves',
    seeds: [
      readFileSync('scenarios/data/sediment-laser.csv', 'utf8'),
      'Size [µm];Undersize [%]\n1,0;2,5\n10,0;30\n100;90\n500;100\n',
      'mesh (ASTM E11)\tretained g\n100\t1.2\n200\t30.4\n325\t40\npan\t28\n',
      'd10 = 5.1 um, d50 = 22.4 um, d90 = 61 um\n',
    ],
    feed: (text) =>
      refusing(() => {
        const { samples } = readMeasurement(new TextEncoder().encode(text), 'fuzzed.csv');
        for (const [path, value] of numbersIn(samples, '')) {
          if (Number.isNaN(value) || Math.abs(value) > 1e300) throw new Error(`accepted ${path} = ${value}`);
        }
      }),
  },
  {
    name: 'trial logs, CSV',
    seeds: [CSV_LOG, CSV_LOG.replaceAll(';', '\t'), `${CSV_LOG}${SIZES}${RUN}`],
    feed: (text) => trialLog(text, 'log.csv'),
  },
  {
    name: 'trial logs, YAML',
    seeds: [YAML_LOG, `${YAML_LOG}${SIZES}${RUN}`],
    feed: (text) => trialLog(text, 'log.yaml'),
  },
];
