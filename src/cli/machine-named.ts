import { InputError } from '../scenario/errors.ts';
import { filesBeside } from '../scenario/load.ts';
import { machineAlone } from '../scenario/machine-alone.ts';
import type { Scenario } from '../scenario/scenario.ts';

/**
 * A scenario of any feed on the machine named: the machine is all that is used of it.
 *
 * @param to machine of the catalogue, or a file, relative to the current folder
 * @param option that named it, for messages
 * @throws InputError where there is no such machine
 */
export function machineNamed(to: string, option: string): Scenario {
  try {
    return machineAlone(to, { ...filesBeside('(a file of the current folder)'), name: option });
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(
      error.faults.map(({ place, message }) => ({ place: `${option}: ${place}`, message })),
    );
  }
}
