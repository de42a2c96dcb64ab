import { appendFileSync, existsSync, readFileSync } from 'node:fs';
import {
  type Kind,
  METHODS,
  OTHER_LAWS,
  type OtherLaw,
  PERCENTILES,
  type Score,
  scoreCampaign,
} from '../campaign/score.ts';
import { type CampaignFigures, figuresOf, SEED } from './campaigns.ts';

/**
 * `npm run campaigns -- --campaigns 100 --output FILE`: synthetic campaigns of every kind, one line of JSON each, taken up
 * again where a run was stopped; then the table.
 */
const RUNS = [1, 3, 6];
const OTHERS = Object.keys(OTHER_LAWS) as OtherLaw[];
/** Kinds by name; the truth of another law is of either, seed by seed. */
const KINDS: readonly (readonly [name: string, kind: (seed: number) => Kind])[] = [
  ...METHODS.flatMap((method) =>
    RUNS.map((runs) => [`${method} ${runs}`, () => ({ method, runs })] as const),
  ),
  ...RUNS.map(
    (runs) =>
      [
        `another law ${runs}`,
        (seed: number): Kind => ({ method: 'laser', runs, other: OTHERS[seed % OTHERS.length]! }),
      ] as const,
  ),
];

const campaigns = Number(argument('--campaigns') ?? 100);
const out = argument('--output');
const known = new Map<string, Score>();
if (out && existsSync(out)) {
  for (const line of readFileSync(out, 'utf8').split('\n').filter(Boolean)) {
    const { kind, seed, score } = JSON.parse(line) as { kind: string; seed: number; score: Score };
    known.set(`${kind} ${seed}`, score);
  }
}
// seed by seed over all kinds, so that a run stopped early has some of each
const scores = new Map<string, Score[]>(KINDS.map(([name]) => [name, []]));
for (let seed = SEED; seed < SEED + campaigns; seed++) {
  for (const [name, kind] of KINDS) {
    const score = known.get(`${name} ${seed}`) ?? scoreCampaign(kind(seed), seed);
    if (out && !known.has(`${name} ${seed}`))
      appendFileSync(out, `${JSON.stringify({ kind: name, seed, score })}\n`);
    scores.get(name)!.push(score);
  }
}

const percent = (value: number, digits = 0): string => (100 * value).toFixed(digits);
process.stdout.write(
  `${campaigns} campaigns a kind. Shares in %: truth within 95 % interval or band; median errors in %.\n`,
);
for (const [name, list] of scores) process.stdout.write(`${name.padEnd(24)} ${row(figuresOf(list))}\n`);

function row({ coefficients, bands, power, errors, foretold, ...rest }: CampaignFigures): string {
  const shares = PERCENTILES.map((share) => `x${Math.round(100 * share)}`);
  const of = (values: readonly number[], digits: number): string =>
    values.map((value, i) => `${shares[i]!} ${percent(value, digits)}`).join(', ');
  const fitted = Object.entries(coefficients).map(([symbol, value]) => `${symbol} ${percent(value)}`);
  return [
    ...(fitted.length > 0 ? [`coefficients ${fitted.join(', ')}`] : []),
    `bands ${of(bands, 0)}, power ${percent(power)}`,
    `error ${of(errors, 1)} (foretold ${of(foretold, 1)})`,
    `lack of fit ${percent(rest.lackOfFit)}`,
    `effective ≥ ${rest.leastEffective.toFixed(0)}`,
    `${rest.secondsPerFit.toFixed(1)} s/fit`,
  ].join(' | ');
}

function argument(name: string): string | undefined {
  const at = process.argv.indexOf(name);
  return at >= 0 ? process.argv[at + 1] : undefined;
}
