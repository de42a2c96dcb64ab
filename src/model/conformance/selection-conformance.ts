import type { Hit, SelectionLaw } from '../breakage/selection/selection-law.ts';
import { exampleOf, extremesOf } from './example.ts';
import { headerFaults } from './law-header.ts';
import { brokenRules, firstOf, geometric, type Rule, told } from './rule.ts';

const SPEEDS = [5, 20, 60, 80, 120, 180];
/** Speed at which a law is looked at [m/s], and one beyond all sources. */
const USUAL = 80;
const BEYOND = 400;
/** Rounding of a sum of a few terms. */
const ROUNDING = 1e-15;

const hit = (speed: number): Hit => ({ speed, energy: speed ** 2 / 2 });

/** Where a selection law does not hold to what every one must, a sentence each; empty where it conforms. */
export function selectionFaults(law: SelectionLaw): string[] {
  const header = headerFaults(law);
  return header.length > 0 ? header : brokenRules(rulesOf(law));
}

function rulesOf(law: SelectionLaw): Rule[] {
  const choice = exampleOf(law);
  const at = (size: number, speed: number, of = choice): number => law.probability(of, size, hit(speed));
  const place = (size: number, speed: number): string => `at ${told(1e6 * size)} µm and ${told(speed)} m/s`;
  return [
    {
      must: 'give a probability from 0 to 1, at the ends of its parameters too',
      broken: () =>
        firstOf(extremesOf(law), (of) =>
          firstOf(geometric(1e-9, 1, 3), (size) =>
            firstOf([1e-9, ...SPEEDS, BEYOND], (speed) => {
              const value = at(size, speed, of);
              return value >= 0 && value <= 1 ? undefined : `${told(value)} ${place(size, speed)}`;
            }),
          ),
        ),
    },
    {
      must: 'never fall with the speed of the hit',
      broken: () =>
        firstOf(geometric(1e-7, 0.01, 1.3), (size) =>
          firstOf(SPEEDS.slice(1), (speed, k = SPEEDS.indexOf(speed)) => {
            const [before, here] = [at(size, SPEEDS[k - 1]!), at(size, speed)];
            return here >= before ? undefined : `it falls by ${told(before - here)} ${place(size, speed)}`;
          }),
        ),
    },
    {
      must: 'never fall with size up to a millimetre',
      broken: () =>
        firstOf(geometric(1e-8, 1e-3 / 1.1, 1.1), (size) => {
          const [before, here] = [at(size, USUAL), at(1.1 * size, USUAL)];
          return here >= before - ROUNDING
            ? undefined
            : `it falls by ${told(before - here)} ${place(1.1 * size, USUAL)}`;
        }),
    },
    {
      must: 'break nothing below its grind limit, and something above',
      broken: () => {
        const limit = law.grindLimit(choice, hit(USUAL));
        if (!(limit >= 0)) return `its grind limit is ${told(limit)} m`;
        if (limit === 0)
          return at(1e-5, USUAL) > 0 ? undefined : `it has none, but gives 0 ${place(1e-5, USUAL)}`;
        if (at(limit * 0.999, USUAL) !== 0)
          return `${told(at(limit * 0.999, USUAL))} just below ${told(1e6 * limit)} µm`;
        return at(limit * 1.02, USUAL) > 0 ? undefined : `0 just above ${told(1e6 * limit)} µm`;
      },
    },
    {
      must: 'break nothing where a hit has no speed',
      broken: () => (at(5e-4, 1e-9) < 1e-6 ? undefined : `${told(at(5e-4, 1e-9))} ${place(5e-4, 1e-9)}`),
    },
    {
      must: 'say in words where a hit is beyond its source, and nothing where it is not',
      broken: () => {
        const [inside, beyond] = [law.outside(choice, hit(USUAL)), law.outside(choice, hit(BEYOND))];
        if (inside.length > 0) return `at ${USUAL} m/s it says "${inside[0]}"`;
        if (beyond.length === 0) return `at ${BEYOND} m/s it says nothing`;
        return beyond.some((words) => /NaN|undefined|Infinity/.test(words)) ? `"${beyond[0]}"` : undefined;
      },
    },
  ];
}
