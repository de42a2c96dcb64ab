import { InputError } from '../scenario/errors.ts';
import { filesBeside } from '../scenario/load.ts';
import { parseScenario } from '../scenario/parse.ts';
import type { Scenario } from '../scenario/scenario.ts';

/**
 * A scenario of any feed on the machine named: the machine is all that is used of it.
 *
 * @param to machine of the catalogue, or a file beside `file`
 * @param option that named it, for messages
 * @throws InputError where there is no such machine
 */
export function machineNamed(to: string, file: string, option: string): Scenario {
  const text = [
    'title: another machine',
    'material: { from: organic-crystal }',
    'feed: { law: log-normal, x50: 500 um, spread: 0.35 }',
    `machine: { from: ${JSON.stringify(to)} }`,
    'air: { flow: 1000 m^3/h }',
    'settings: { feedRate: 1 kg/h }',
  ].join('\n');
  try {
    return parseScenario(text, { ...filesBeside(file), name: option });
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(
      error.faults.map(({ place, message }) => ({ place: `${option}: ${place}`, message })),
    );
  }
}
