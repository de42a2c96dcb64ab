import { type Fault, InputError } from '../scenario/errors.ts';

/**
 * Runs checks that do not hang on each other and throws the faults of all of them at once.
 *
 * @throws InputError with every fault, in the order of the checks
 */
export async function checkedTogether<T extends readonly unknown[]>(
  checks: {
    readonly [K in keyof T]: () => T[K] | Promise<T[K]>;
  },
): Promise<T> {
  const faults: Fault[] = [];
  const results: unknown[] = [];
  for (const check of checks) {
    try {
      results.push(await check());
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      faults.push(...error.faults);
    }
  }
  if (faults.length > 0) throw new InputError(faults);
  return results as unknown as T;
}
