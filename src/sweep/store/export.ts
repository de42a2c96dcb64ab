import { renameSync, rmSync } from 'node:fs';
import { Database } from './database.ts';
import { storeFault } from './fault.ts';
import { literal } from './schema.ts';

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
  const fresh = `${path}.${process.pid}.new`;
  const database = await Database.open(store, 'export');
  try {
    await database.run(
      `COPY (SELECT * FROM points ORDER BY "index") TO ${literal(fresh)} (${OPTIONS[format]})`,
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
