import { existsSync, renameSync, rmSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { type Fault, InputError } from '../../scenario/errors.ts';
import type { Range } from '../study/column.ts';
import { describeRange, gapsIn } from '../study/range.ts';
import { nameBeside } from './atomic-write.ts';
import { Database } from './database.ts';
import { storeFault } from './fault.ts';
import { makeFolder } from './folder.ts';
import { differences } from './identity.ts';
import { StoreReader, shardsIn } from './reader.ts';
import { literal } from './schema.ts';
import { fill } from './store.ts';
import { placeOf } from './store-path.ts';
import type { StoredStudy } from './stored-study.ts';

/** One store to be joined. */
interface Part {
  readonly path: string;
  readonly stored: StoredStudy;
}

/**
 * Joins the shards of one sweep into one store.
 *
 * @param outs folders of shards, or their files
 * @param target path of the joined store
 * @returns points joined
 * @throws InputError naming every gap, overlap, unfinished shard and shard of another sweep
 */
export async function mergeShards(outs: readonly string[], target: string): Promise<number> {
  const paths = outs.flatMap(partsIn);
  if (existsSync(target)) {
    throw new InputError([
      { place: target, message: 'exists already; not changed. Delete it or name another -o' },
    ]);
  }
  const faults: Fault[] = [];
  const parts: Part[] = [];
  for (const path of paths) parts.push({ path, stored: await readPart(path, faults) });
  parts.sort((a, b) => a.stored.range.first - b.stored.range.first);
  faults.push(...strangers(parts));
  if (faults.length === 0) faults.push(...overlaps(parts), ...gaps(parts));
  if (faults.length > 0) throw new InputError(faults);
  await joinParts(parts, target);
  return parts[0]!.stored.size;
}

/** Shards behind one argument. */
function partsIn(out: string): string[] {
  if (out.endsWith('.duckdb')) return [out];
  const found = shardsIn(out).map((name) => join(out, name));
  if (found.length > 0) return found;
  const { store } = placeOf(out);
  if (existsSync(store)) return [store];
  throw new InputError([
    { place: out, message: 'contains no shard; make them: grindloop sweep FILE -o OUT --shard k/n' },
  ]);
}

async function readPart(path: string, faults: Fault[]): Promise<StoredStudy> {
  const reader = await StoreReader.open(path);
  reader.close();
  const [gap] = reader.missing;
  if (gap !== undefined) {
    const others = reader.missing.length > 1 ? ' and more' : '';
    const message = `is unfinished, ${describeRange(gap)}${others} missing; run its sweep again`;
    faults.push({ place: path, message });
  }
  return reader.stored;
}

function strangers(parts: readonly Part[]): Fault[] {
  const [first] = parts;
  return parts.flatMap(({ path, stored }) => {
    const { hash, size } = stored;
    if (hash === first!.stored.hash && size === first!.stored.size) return [];
    const other = first!.stored;
    const [what] = differences(stored.study, stored.version, other.study, other.version);
    const detail = what ?? `${size} points here, ${other.size} in the store`;
    return [
      {
        place: path,
        message: `is of another sweep than ${first!.path}: ${detail.replace('the store', 'that')}`,
      },
    ];
  });
}

function overlaps(parts: readonly Part[]): Fault[] {
  return parts.slice(1).flatMap(({ path, stored }, k) => {
    const before = parts[k]!;
    const end = before.stored.range.first + before.stored.range.count;
    const common: Range = { first: stored.range.first, count: end - stored.range.first };
    if (common.count <= 0) return [];
    const count = Math.min(common.count, stored.range.count);
    const message = `overlaps ${before.path}: ${describeRange({ ...common, count })} are in both`;
    return [{ place: path, message }];
  });
}

function gaps(parts: readonly Part[]): Fault[] {
  const ranges = parts.map(({ stored }) => stored.range);
  const whole = { first: 0, count: parts[0]!.stored.size };
  return gapsIn(ranges, whole).map((gap) => {
    const before = parts.findLast(({ stored }) => stored.range.first < gap.first);
    const after = parts.find(({ stored }) => stored.range.first > gap.first);
    const where = [before && `after ${basename(before.path)}`, after && `before ${basename(after.path)}`];
    const message = `${describeRange(gap)} are in none of the shards (${where.filter(Boolean).join(', ')})`;
    return { place: dirname(parts[0]!.path), message };
  });
}

async function joinParts(parts: readonly Part[], target: string): Promise<void> {
  const fresh = nameBeside(target);
  const { size } = parts[0]!.stored;
  try {
    makeFolder(dirname(target));
    rmSync(fresh, { force: true });
    const database = await Database.open(
      fresh,
      'join',
      parts.map(({ path }) => path),
    );
    try {
      await database.use();
      await fill(database, { ...parts[0]!.stored, range: { first: 0, count: size } });
      for (const part of parts) await take(database, part);
      await database.run('CHECKPOINT');
    } finally {
      database.close();
    }
    renameSync(fresh, target);
  } catch (error) {
    throw storeFault(target, error);
  } finally {
    rmSync(fresh, { force: true });
    rmSync(`${fresh}.wal`, { force: true });
  }
}

async function take(database: Database, { path, stored }: Part): Promise<void> {
  await database.run(`ATTACH ${literal(resolve(path))} AS part (READ_ONLY)`);
  await database.run('BEGIN');
  await database.run('INSERT INTO points SELECT * FROM part.points ORDER BY "index"');
  await database.run('INSERT INTO chunks SELECT * FROM part.chunks ORDER BY first');
  if (stored.curveSizes.length > 0)
    await database.run('INSERT INTO curves SELECT * FROM part.curves ORDER BY "index"');
  await database.run('COMMIT');
  await database.run('DETACH part');
}
