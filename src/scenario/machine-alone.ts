import { type ParseOptions, parseScenario } from './parse.ts';
import type { Scenario } from './scenario.ts';

/**
 * A scenario of any feed on the machine named: the machine is all that is used of it.
 *
 * @param to machine of the catalogue, or a file
 * @throws InputError where there is no such machine
 */
export function machineAlone(to: string, options: ParseOptions): Scenario {
  const text = [
    'title: another machine',
    'material: { from: organic-crystal }',
    'feed: { law: log-normal, x50: 500 um, spread: 0.35 }',
    `machine: { from: ${JSON.stringify(to)} }`,
    'air: { flow: 1000 m^3/h }',
    'settings: { feedRate: 1 kg/h }',
  ].join('\n');
  return parseScenario(text, options);
}
