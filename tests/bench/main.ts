import { writeFileSync } from 'node:fs';
import { countCampaigns, flatFigures } from './campaigns.ts';
import { countFirstCrossings } from './first-crossing.ts';
import { benchPage } from './page.ts';
import { spreadOfSettings, timeDense, timeSteady } from './steady.ts';
import { benchSweep } from './sweep.ts';

/** `npm run bench -- --json FILE`: prints every figure and writes them where asked. */
const figures: Record<string, number> = {};

const cases = spreadOfSettings(2400);
const { steady_us, evaluations } = timeSteady(cases);
figures.steady_us = steady_us;
figures.evaluations_per_steady = evaluations;
figures.dense_us = timeDense(cases.filter((_, i) => i % 200 === 0));
figures.dense_over_steady = figures.dense_us / steady_us;

const scans = Number(argument('--scan') ?? 100_000);
for (const [name, value] of Object.entries(countFirstCrossings(scans, 300)))
  figures[`first_crossing_${name}`] = value;

Object.assign(figures, await benchSweep(Number(argument('--points') ?? 1_000_000)));
Object.assign(figures, await benchPage());

// a few of each here; the full count is a script of its own, `npm run campaigns`
const campaigns = Number(argument('--campaigns') ?? 10);
for (const [runs, method] of [
  [1, 'laser'],
  [3, 'laser'],
  [6, 'sieve'],
] as const) {
  for (const [name, value] of Object.entries(flatFigures(countCampaigns({ method, runs }, campaigns))))
    figures[`fit_${runs}_${method}_${name}`] = value;
}

for (const [name, value] of Object.entries(figures))
  process.stdout.write(`${name.padEnd(32)} ${value.toPrecision(5)}\n`);

const file = argument('--json');
if (file) writeFileSync(file, `${JSON.stringify(figures, null, 2)}\n`);

function argument(name: string): string | undefined {
  const at = process.argv.indexOf(name);
  return at >= 0 ? process.argv[at + 1] : undefined;
}
