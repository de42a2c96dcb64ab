import type { NamedReading } from '../answers/read/read-keys.ts';
import { InputError } from '../scenario/errors.ts';
import type { Reading } from '../scenario/measurement/read-measurement.ts';
import type { ReadOptions } from '../scenario/measurement/reading-questions.ts';
import { readMeasurementFile } from '../trials/measurement-file.ts';

/** Reads every file; questions of all files come at once. */
export async function readAll(files: readonly string[], stated: ReadOptions): Promise<NamedReading[]> {
  const results = await Promise.allSettled(files.map((file) => readMeasurementFile(file, stated)));
  const faults = results.flatMap((result) => {
    if (result.status === 'fulfilled') return [];
    if (result.reason instanceof InputError) return result.reason.faults;
    throw result.reason;
  });
  if (faults.length > 0) throw new InputError(faults);
  return results.map((result, i) => ({
    file: files[i]!,
    reading: (result as PromiseFulfilledResult<Reading>).value,
  }));
}
