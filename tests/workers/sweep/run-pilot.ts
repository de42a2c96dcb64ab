import { runSweep } from '../../../src/sweep/workers/run-sweep.ts';
import { FACTORS, pilotStudy } from './pilot.ts';

/** Sweeps the pilot mill in a process of its own, so that a test can kill it: OUT, points. Prints a dot a block. */
const [out, points] = process.argv.slice(2);
const study = pilotStudy({ design: 'sobol', factors: FACTORS, points: Number(points), seed: 11 });
const onProgress = (): boolean => process.stdout.write('.');
const result = await runSweep({ study, out: out!, version: 'test', threads: 2, chunk: 16, onProgress });
process.stdout.write(`\n${result.progress.before} ${result.progress.done}\n`);
