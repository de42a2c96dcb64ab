import { writeFileSync } from 'node:fs';
import { countCampaigns, flatFigures } from './campaigns.ts';
import { benchFind } from './find.ts';
import { countFirstCrossings } from './first-crossing.ts';
import { countKills } from './kills.ts';
import { nextCurves } from './next-curve.ts';
import { stopFigures } from './next-stop.ts';
import { curvesText, stopText } from './next-text.ts';
import { benchDesk, benchPage } from './page.ts';
import { benchStart } from './start-up.ts';
import { spreadOfSettings, timeDense, timeSteady } from './steady.ts';
import { strangest } from './strange.ts';
import { benchSweep } from './sweep.ts';

/** `npm run bench -- --json FILE`: prints every figure and writes them where asked; `--kills N` kills alone,
 * `--next N` draws the curve of `next`, its forecasts and its stop over N campaigns alone, `--find N` times `find` and counts how
 * often what it found over N calibrations meets the spec, `--pages` times desk and report in a browser alone, `--start` the start of commands alone, `--strange N` looks for the hundred strangest of N random settings alone. */
const figures: Record<string, number> = {};

const kills = argument('--kills');
if (kills !== undefined) {
  const counts = await countKills(Number(kills));
  process.stdout.write(`${JSON.stringify(counts)}\n`);
  const { kills: done, struck, finished, ...faults } = counts;
  process.exit(Object.values(faults).every((count) => count === 0) ? 0 : 1);
}

const nextCampaigns = argument('--next');
if (nextCampaigns !== undefined) {
  const { campaigns, next, oneAtATime } = nextCurves(Number(nextCampaigns), 5, (done) =>
    process.stderr.write(`${done} of ${nextCampaigns}\n`),
  );
  process.stdout.write(curvesText({ campaigns, next, oneAtATime }) + stopText(stopFigures(campaigns)));
  process.exit(0);
}

const strange = argument('--strange');
if (strange !== undefined) {
  const lines = strangest(Number(strange), 100).map((one) => JSON.stringify(one));
  writeFileSync(argument('--json') ?? 'strange-settings.json', `[\n${lines.join(',\n')}\n]\n`);
  process.exit(0);
}

if (process.argv.includes('--start')) {
  print(benchStart());
  process.exit(0);
}

if (process.argv.includes('--pages')) {
  print({ ...(await benchDesk()), ...(await benchPage()) });
  process.exit(0);
}

const calibrations = argument('--find');
if (calibrations !== undefined) {
  print(await benchFind(Number(calibrations)));
  process.exit(0);
}

Object.assign(figures, benchStart());

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
Object.assign(figures, await benchPage(), await benchDesk());
Object.assign(figures, await benchFind(4));

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

print(figures);

const file = argument('--json');
if (file) writeFileSync(file, `${JSON.stringify(figures, null, 2)}\n`);

function print(all: Readonly<Record<string, number>>): void {
  for (const [name, value] of Object.entries(all))
    process.stdout.write(`${name.padEnd(32)} ${value.toPrecision(5)}\n`);
}

function argument(name: string): string | undefined {
  const at = process.argv.indexOf(name);
  return at >= 0 ? process.argv[at + 1] : undefined;
}
