import { InputError } from '../../../src/scenario/errors.ts';
import { packageCatalogue } from '../../../src/scenario/load.ts';
import { type ParseOptions, parseScenario } from '../../../src/scenario/parse.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';

/** A short scenario on the catalogue, as lines a test may replace by their key. */
const LINES: Readonly<Record<string, string>> = {
  title: 'Lot 4711',
  material: '{ from: organic-crystal, density: 1450 kg/m^3 }',
  feed: '{ law: log-normal, x50: 500 um, spread: 0.35 }',
  machine: 'pilot-300',
  settings: '{ rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: 1500 rpm, feedRate: 150 kg/h }',
  spec: '[ "passing(75 um) >= 95 %" ]',
};

/** Text of a scenario with some lines replaced, added, or (empty) left out. */
export function scenarioText(changes: Readonly<Record<string, string>> = {}): string {
  return Object.entries({ ...LINES, ...changes })
    .filter(([, value]) => value !== '')
    .map(([key, value]) => `${key}: ${value}`)
    .join('\n');
}

/** Files of a test, by name. */
export type TestFiles = Readonly<Record<string, string>>;

/** Reads a text on the package's catalogue, with files that exist only in the test. */
export function readText(text: string, files: TestFiles = {}, options: ParseOptions = {}): Scenario {
  return parseScenario(text, {
    ...packageCatalogue(),
    readFile: (name) => {
      const file = files[name];
      if (file === undefined) throw new Error('there is no such file');
      return file;
    },
    ...options,
  });
}

/** Reads the short scenario with changes. */
export function read(changes: Readonly<Record<string, string>> = {}, files: TestFiles = {}): Scenario {
  return readText(scenarioText(changes), files);
}

/** Every fault of a text, one line each; fails where there is none or something else is thrown. */
export function faultsOf(text: string, files: TestFiles = {}, options: ParseOptions = {}): string[] {
  try {
    readText(text, files, options);
  } catch (error) {
    if (error instanceof InputError) return error.message.split('\n');
    throw error;
  }
  return [];
}
