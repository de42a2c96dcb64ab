import { rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { loadScenario } from '../../src/scenario/load.ts';
import { studyOf } from '../../src/sweep/study/study-of.ts';
import { runSweep } from '../../src/sweep/workers/run-sweep.ts';
import { TWENTY_FIVE } from '../workers/sweep/pilot.ts';

/** One sweep of the demonstration in a process of its own, so that its memory is its own: OUT, points, threads. */
const [out, points, threads] = process.argv.slice(2);
const file = fileURLToPath(new URL('../../../scenarios/erythritol.yaml', import.meta.url));
const scenario = await loadScenario(file, { set: ['sweep.design=sobol'] });
const study = studyOf(scenario, { points: Number(points), quantities: TWENTY_FIVE });
const start = performance.now();
const { complete } = await runSweep({ study, out: out!, version: 'bench', threads: Number(threads) });
const seconds = (performance.now() - start) / 1000;
rmSync(out!, { recursive: true });
if (!complete) throw new Error('the sweep did not come to its end');
const { user, system } = process.cpuUsage();
const result = {
  rate: Number(points) / seconds,
  memory: process.resourceUsage().maxRSS / 1024,
  work: (user + system) / Number(points),
};
process.stdout.write(JSON.stringify(result));
