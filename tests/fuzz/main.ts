import { uniform } from '../reference/random-cases.ts';
import { becomeNobody, commandLines } from './command-line/campaign.ts';
import { runApart, runHereBriefly } from './command-line/run.ts';
import { mutate } from './mutate.ts';
import { TARGETS } from './targets.ts';
import { LEAST_TOLD, shareTold, wrongAcceptance } from './wrong-acceptance.ts';

/**
 * `npm run fuzz -- --runs N --seed S`: mutated input against every reader, and mutated command lines; any crash or hang is
 * printed and fails. `--only NAME` takes one target, `--apart` gives every command line a process of its own.
 */
const argument = (name: string, otherwise: number) => {
  const at = process.argv.indexOf(name);
  return at >= 0 ? Number(process.argv[at + 1]) : otherwise;
};
const runs = argument('--runs', 10_000);
const seed = argument('--seed', 1);
const SLOW = 5000;
const only = process.argv[process.argv.indexOf('--only') + 1];
const wanted = (name: string) => !process.argv.includes('--only') || only === name;
const names = [...TARGETS.map(({ name }) => name), 'one slip', 'command lines'];
if (!names.some(wanted)) {
  process.stderr.write(`--only takes one of: ${names.join(', ')}\n`);
  process.exit(1);
}
let broken = 0;
for (const { name, seeds, feed } of TARGETS) {
  if (!wanted(name)) continue;
  const random = uniform(seed);
  const counts = { accepted: 0, refused: 0 };
  let slowest = 0;
  for (let run = 0; run < runs; run++) {
    const text = mutate(seeds[Math.floor(random() * seeds.length)]!, random);
    const start = performance.now();
    try {
      counts[await feed(text)]++;
    } catch (error) {
      broken++;
      if (broken <= 10) {
        process.stdout.write(
          `${name}, run ${run}: ${(error as Error).stack}\n--- input\n${text.slice(0, 3000)}\n---\n`,
        );
      }
    }
    const took = performance.now() - start;
    if (took > SLOW) {
      broken++;
      process.stdout.write(
        `${name}, run ${run}: took ${took.toFixed(0)} ms\n--- input\n${text.slice(0, 3000)}\n---\n`,
      );
    }
    slowest = Math.max(slowest, took);
  }
  process.stdout.write(
    `${name}: ${runs} runs, ${counts.accepted} accepted, ${counts.refused} refused, slowest ${slowest.toFixed(0)} ms\n`,
  );
}
if (wanted('one slip')) broken += slipsAccepted((text) => process.stdout.write(text));
if (wanted('command lines')) {
  becomeNobody();
  const run = process.argv.includes('--apart') ? runApart : runHereBriefly;
  const result = await commandLines(runs, seed, (text) => process.stdout.write(text), run);
  broken += result.broken;
  const codes = Object.entries(result.codes).map(([code, count]) => `${count} exit ${code}`);
  process.stdout.write(
    `command lines: ${runs} runs, ${codes.join(', ')}, slowest ${result.slowest.took.toFixed(0)} ms (${result.slowest.words})\n`,
  );
}
process.stdout.write(`${broken} broken\n`);
process.exitCode = broken > 0 ? 1 : 0;

/** Prints how mistyped numbers of the demonstrations fare, class by class; 1 where too many are accepted in silence. */
function slipsAccepted(print: (text: string) => void): number {
  const tallies = ['scenarios/erythritol.yaml', 'scenarios/mineral-filler.yaml'].flatMap(wrongAcceptance);
  for (const { slip, tried, refused, questioned, silent } of tallies) {
    print(
      `one slip, ${slip}: ${tried} tried, ${refused} refused, ${questioned} questioned, ${silent.length} accepted\n`,
    );
    for (const line of silent) print(`  accepted: ${line}\n`);
  }
  const share = shareTold(tallies);
  print(`one slip: ${(100 * share).toFixed(1)} % refused or questioned\n`);
  return share < LEAST_TOLD ? 1 : 0;
}
