import { writeFileSync } from 'node:fs';
import { spreadOfSettings, timeDense, timeSteady } from './steady.ts';

/** `npm run bench -- --json FILE`: prints every figure and writes them where asked. */
const figures: Record<string, number> = {};

const cases = spreadOfSettings(2400);
const { steady_us, evaluations } = timeSteady(cases);
figures.steady_us = steady_us;
figures.evaluations_per_steady = evaluations;
figures.dense_us = timeDense(cases.filter((_, i) => i % 200 === 0));
figures.dense_over_steady = figures.dense_us / steady_us;

for (const [name, value] of Object.entries(figures))
  process.stdout.write(`${name.padEnd(32)} ${value.toPrecision(5)}\n`);

const at = process.argv.indexOf('--json');
if (at >= 0) writeFileSync(process.argv[at + 1]!, `${JSON.stringify(figures, null, 2)}\n`);
