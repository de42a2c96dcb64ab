import { readFileSync } from 'node:fs';
import { InputError } from '../../src/scenario/errors.ts';
import { filesBeside } from '../../src/scenario/load.ts';
import { outcomeOf } from '../../src/scenario/outcome/outcome.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import { parseScenario } from '../../src/scenario/parse.ts';
import { toCase } from '../../src/scenario/point.ts';
import { readMeasurement } from '../../src/trials/read/reading.ts';

/** What one run came to. */
export type Verdict = 'accepted' | 'refused';

/** Something to throw mutated text at; throws anything but an InputError where it is broken. */
export interface Target {
  readonly name: string;
  readonly seeds: readonly string[];
  readonly feed: (text: string) => Verdict;
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
    if (!(error instanceof InputError)) throw error;
    for (const { place, message } of error.faults) {
      if (place === '' || message === '' || /\n\s+at /.test(message))
        throw new Error(`a fault without words: ${place}: ${message}`);
    }
    if (error.faults.length === 0) throw new Error('refused without saying why');
    return 'refused';
  }
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
];
