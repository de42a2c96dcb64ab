import { InputError } from '../../scenario/errors.ts';
import type { Range } from '../study/column.ts';
import { pointsIn } from '../study/range.ts';
import type { Database } from './database.ts';

/**
 * Runs of points that a store holds, held against its rows.
 *
 * @param size points of the whole design
 * @throws InputError where the rows are not those of the runs
 */
export async function storedRanges(database: Database, size: number): Promise<readonly Range[]> {
  const chunks = (await database.rows('SELECT first, count FROM chunks ORDER BY first')).map(
    ([first, count]) => ({ first: Number(first), count: Number(count) }),
  );
  const apart = chunks.every(({ first, count }, k) => {
    const end = k === 0 ? 0 : chunks[k - 1]!.first + chunks[k - 1]!.count;
    return count > 0 && first >= end && first + count <= size;
  });
  const [row] = await database.rows('SELECT count(*), coalesce(sum("index"), 0) FROM points');
  const [rows, sum] = row!.map((value) => BigInt(value as bigint));
  if (apart && rows === BigInt(pointsIn(chunks)) && sum === sumOfIndices(chunks)) return chunks;
  const found = `${rows} rows where its list of runs has ${pointsIn(chunks)} points`;
  const message = `is damaged or was changed: ${found}; restore the file from a copy, or name another OUT`;
  throw new InputError([{ place: database.path, message }]);
}

function sumOfIndices(chunks: readonly Range[]): bigint {
  return chunks.reduce((sum, { first, count }) => {
    const n = BigInt(count);
    return sum + (n * (2n * BigInt(first) + n - 1n)) / 2n;
  }, 0n);
}

/** Reads every row and curve, so that a damaged block is found: the database checks a block where it reads it. */
export async function readEveryRow(database: Database, curves: boolean): Promise<void> {
  await database.rows('SELECT bit_xor(hash(points)) FROM points');
  if (curves) await database.rows('SELECT bit_xor(hash(curves)) FROM curves');
}
