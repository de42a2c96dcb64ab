import { renameSync, rmSync, statSync } from 'node:fs';
import { resolve } from 'node:path';
import { InputError } from '../../scenario/errors.ts';
import { nameBeside } from './atomic-write.ts';
import { Database } from './database.ts';
import { storeFault } from './fault.ts';
import { emptyOrBegins } from './file-signature.ts';
import { refuseProtected } from './protected.ts';
import { literal } from './schema.ts';
import { readStoredStudy } from './stored-study.ts';

export type ExportFormat = 'csv' | 'parquet';

const OPTIONS: Readonly<Record<ExportFormat, string>> = {
  csv: 'FORMAT csv, HEADER true',
  parquet: 'FORMAT parquet, COMPRESSION zstd',
};

/**
 * Writes all rows, in the order of their index, beside the store; heads carry the units. The file appears whole: an
 * older one stays until then.
 *
 * @param store path of the store
 * @returns the file's path
 * @throws InputError where it cannot be written
 */
export async function exportRows(store: string, format: ExportFormat): Promise<string> {
  const path = `${store.replace(/\.duckdb$/, '')}.${format}`;
  refuseOther(path, format);
  const fresh = nameBeside(path);
  const database = await Database.open(store, 'read', [fresh]);
  try {
    await readStoredStudy(database);
    await database.run(
      `COPY (SELECT * FROM points ORDER BY "index") TO ${literal(resolve(fresh))} (${OPTIONS[format]})`,
    );
    renameSync(fresh, path);
    return path;
  } catch (error) {
    throw storeFault(path, error);
  } finally {
    database.close();
    rmSync(fresh, { force: true });
  }
}

/** How an export begins; a file that begins otherwise is somebody's, and not changed. */
const BEGINS: Readonly<Record<ExportFormat, string>> = { csv: 'index,', parquet: 'PAR1' };

function refuseOther(path: string, format: ExportFormat): void {
  const old = statSync(path, { throwIfNoEntry: false });
  if (old === undefined) return;
  refuseProtected(path, old);
  if (old.isFile() && emptyOrBegins(path, BEGINS[format])) return;
  const message = 'exists already and is not an export of a sweep; not changed. Move it, or name another OUT';
  throw new InputError([{ place: path, message }]);
}
