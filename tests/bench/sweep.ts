import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** What one sweep took. */
interface Once {
  /** Points stored per second, from the call to the closed store, threads starting included. */
  readonly rate: number;
  /** Peak resident memory of the process and its threads [MiB]. */
  readonly memory: number;
  /** Processor time a point [µs], all threads. */
  readonly work: number;
}

/**
 * Points stored per second and peak memory of the demonstration's sweep with 25 quantities: stated baselines are
 * ≥ 50 000 points/s with 2 threads, ≥ 1.7 × one thread, ≤ 500 MB and the same for 100 000 and 1 000 000 points.
 */
export async function benchSweep(points = 1_000_000): Promise<Record<string, number>> {
  const script = fileURLToPath(new URL('sweep-once.js', import.meta.url));
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  const once = (count: number, threads: number): Once => {
    const out = join(folder, `${count}-${threads}`);
    return JSON.parse(
      execFileSync(process.execPath, [script, out, String(count), String(threads)], { encoding: 'utf8' }),
    );
  };
  try {
    const tenth = once(Math.ceil(points / 10), 2);
    const one = once(Math.ceil(points / 3), 1);
    const two = once(points, 2);
    return {
      sweep_points_per_s_1: one.rate,
      sweep_points_per_s_2: two.rate,
      sweep_speedup_2: two.rate / one.rate,
      sweep_cpu_us_per_point: two.work,
      rss_mb: two.memory,
      rss_mb_tenth: tenth.memory,
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
