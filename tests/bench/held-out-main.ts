import { appendFileSync, existsSync, readFileSync } from 'node:fs';
import { fitTrials } from '../../src/trials/fit/fit.ts';
import { seeded } from '../../src/trials/random.ts';
import { BLIND, campaignScenario, RUNS, scenarioAt } from '../campaign/campaign.ts';
import { type ForecastScore, scoreForecasts, sumUp } from '../campaign/forecast-score.ts';
import { type HeldOut, heldOutTruth, NOISE, readRun, WRONG, type Wrong } from '../campaign/held-out.ts';
import { FEW } from '../campaign/light.ts';

/**
 * `node dist/tests/bench/held-out-main.js --campaigns 20 --truths FILE [--only KIND]`: truths of the plain coding are kept in
 * the file named, so that they are made once; three trials each, ten settings held out. With `--exchange` the size files of two
 * runs are exchanged, and it counts how often both are named.
 */
const campaigns = Number(argument('--campaigns') ?? 10);
const from = Number(argument('--from') ?? 40_000);
const file = argument('--truths');
const only = argument('--only')?.split(',') as Wrong[] | undefined;
const laser = Number(argument('--laser') ?? NOISE.laser);
const runs = Number(argument('--runs') ?? 3);
const known = new Map<string, HeldOut>();
if (file && existsSync(file))
  for (const line of readFileSync(file, 'utf8').split('\n').filter(Boolean)) {
    const { key, truth } = JSON.parse(line, revived);
    known.set(key, truth);
  }
const scenario = campaignScenario();
for (const wrong of only ?? WRONG) {
  const scores: ForecastScore[] = [];
  const exchanged: boolean[] = [];
  for (let seed = from; seed < from + campaigns; seed++) {
    const key = `${wrong} ${seed}`;
    const random = seeded(seed);
    const truth = known.get(key) ?? heldOutTruth(scenario, wrong, RUNS, BLIND, random);
    if (file && !known.has(key)) appendFileSync(file, `${JSON.stringify({ key, truth }, written)}\n`);
    const noise = seeded(seed + 500_000);
    const trials = RUNS.slice(0, runs).map((settings, i) =>
      readRun(`run ${i + 1}`, scenarioAt(scenario, settings), truth.tried[i]!, { ...NOISE, laser }, noise),
    );
    if (process.argv.includes('--exchange')) {
      const [a, b] = [seed % runs, (seed + 1) % runs];
      const turned = trials.map((trial, i) =>
        i === a
          ? { ...trial, sizes: trials[b]!.sizes! }
          : i === b
            ? { ...trial, sizes: trials[a]!.sizes! }
            : trial,
      );
      const found = fitTrials(scenario, turned, { effort: FEW })?.suspicion;
      const wanted = [trials[a]!.name, trials[b]!.name];
      const named = found?.kind === 'exchanged' && wanted.every((name) => found.runs.includes(name));
      exchanged.push(named);
      process.stdout.write(`${key} exchanged ${wanted.join(' ')}: ${JSON.stringify(found ?? null)}\n`);
      continue;
    }
    const begun = process.cpuUsage().user;
    const fit = fitTrials(scenario, trials);
    const seconds = (process.cpuUsage().user - begun) / 1e6;
    if (!fit) throw new Error(`campaign ${seed} found no fit`);
    const score = scoreForecasts(scenario, fit, BLIND, truth.blind, seconds);
    scores.push(score);
    if (process.argv.includes('--each')) process.stdout.write(`${key} ${JSON.stringify(score.brief)}\n`);
  }
  if (exchanged.length > 0)
    process.stdout.write(
      `${wrong.padEnd(16)} exchanges named ${exchanged.filter(Boolean).length} of ${exchanged.length}\n`,
    );
  else process.stdout.write(`${wrong.padEnd(16)} ${sumUp(scores)}\n`);
}

function written(_: string, value: unknown): unknown {
  return value instanceof Float64Array
    ? { floats: Array.from(value, (x) => Number(x.toPrecision(9))) }
    : value;
}

function revived(_: string, value: unknown): unknown {
  return typeof value === 'object' && value !== null && 'floats' in value
    ? Float64Array.from((value as { floats: number[] }).floats)
    : value;
}

function argument(name: string): string | undefined {
  const at = process.argv.indexOf(name);
  return at >= 0 ? process.argv[at + 1] : undefined;
}
