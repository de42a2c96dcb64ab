import type { FragmentLaw } from '../breakage/fragments/fragment-law.ts';
import { fragmentMatrix } from '../breakage/matrix.ts';
import { tabulateFragments } from '../loop/prepared-materials.ts';
import { solveTriangular } from '../loop/triangular.ts';
import type { LawChoice } from '../parameters.ts';
import { buildGrid } from '../psd/grid.ts';
import { exampleOf, extremesOf } from './example.ts';
import { headerFaults } from './law-header.ts';
import { brokenRules, firstOf, geometric, isNear, type Rule, told } from './rule.ts';

const PARENTS = [2e-7, 1e-5, 3e-4, 5e-3];
const ROUNDING = 1e-15;
/** Rounding of B, a ratio of powers. */
const OF_RATIO = 1e-12;
/** Rounding of a sum over all classes. */
const OF_SUM = 1e-13;

/** Where a fragment law does not hold to what every one must, a sentence each; empty where it conforms. */
export function fragmentFaults(law: FragmentLaw): string[] {
  const header = headerFaults(law);
  return header.length > 0 ? header : brokenRules([...curveRules(law), ...classRules(law)]);
}

function curveRules(law: FragmentLaw): Rule[] {
  const choice = exampleOf(law);
  const b = (size: number, parent: number, of: LawChoice = choice): number => law.undersize(of, size, parent);
  const place = (z: number, parent: number): string =>
    `at ${told(z)} times a parent of ${told(1e6 * parent)} µm`;
  return [
    {
      must: 'have all fragments finer than the parent',
      broken: () =>
        firstOf(PARENTS, (parent) => {
          if (!isNear(b(parent, parent), 1, ROUNDING))
            return `${told(b(parent, parent))} ${place(1, parent)}`;
          const just = b(parent * (1 - 1e-9), parent);
          return isNear(just, 1, 1e-6)
            ? undefined
            : `${told(just)} just below the parent: it would stay whole`;
        }),
    },
    {
      must: 'give a share from 0 to 1, at the ends of its parameters too',
      broken: () =>
        firstOf(extremesOf(law), (of) =>
          firstOf(PARENTS, (parent) =>
            firstOf(geometric(1e-4, 1, 1.3), (z) => {
              const here = b(z * parent, parent, of);
              return here >= 0 && here <= 1 + OF_RATIO ? undefined : `${told(here)} ${place(z, parent)}`;
            }),
          ),
        ),
    },
    {
      must: 'never fall with size',
      broken: () =>
        firstOf(PARENTS, (parent) =>
          firstOf(geometric(1e-4, 1 / 1.02, 1.02), (z) => {
            const [before, here] = [b(z * parent, parent), b(1.02 * z * parent, parent)];
            return here >= before - ROUNDING
              ? undefined
              : `it falls by ${told(before - here)} ${place(1.02 * z, parent)}`;
          }),
        ),
    },
    {
      must: 'say nothing of being outside its meaning at its own example',
      broken: () => {
        const [words] = law.outside(choice);
        return words === undefined ? undefined : `it says "${words}"`;
      },
    },
  ];
}

function classRules(law: FragmentLaw): Rule[] {
  const choice = exampleOf(law);
  const grid = buildGrid({ smallest: 1e-7, top: 1e-3, classesPerOctave: 8 });
  return [
    {
      must: 'conserve mass from class to class',
      broken: () => {
        const packed = fragmentMatrix(grid, choice, law);
        if (!isNear(packed[0]!, 1, ROUNDING)) return `the finest class keeps ${told(packed[0])}`;
        return firstOf(grid.sizes.keys(), (j) => {
          const shares = packed.subarray((j * (j + 1)) / 2, ((j + 1) * (j + 2)) / 2);
          const least = shares.reduce((low, share) => Math.min(low, share), 0);
          const sum = shares.reduce((all, share) => all + share, 0);
          const size = `of a parent of ${told(1e6 * grid.sizes[j]!)} µm`;
          if (!(least >= -1e-16)) return `a class receives ${told(least)} ${size}`;
          return isNear(sum, 1, OF_SUM) ? undefined : `the classes receive ${told(sum)} ${size}`;
        });
      },
    },
    {
      must: 'be the sum of its terms, where it has terms',
      broken: () => {
        const terms = law.terms?.(choice);
        if (!terms) return undefined;
        const pairs = [
          [1e-6, 2e-6],
          [3e-6, 4e-4],
          [1e-4, 1e-3],
        ] as const;
        return firstOf(pairs, ([x, y]) => {
          const sum = terms.reduce((total, term) => total + term.ofFragment(x) * term.ofParent(y), 0);
          const wanted = law.undersize(choice, x, y);
          return isNear(sum, wanted, OF_RATIO) ? undefined : `${told(sum)}, not ${told(wanted)}`;
        });
      },
    },
    { must: 'give the same arriving flow by its terms as by its classes', broken: () => routesApart(law) },
  ];
}

/** Where the quick route through the loop, by terms, differs from the one by classes. */
function routesApart(law: FragmentLaw): string | undefined {
  const choice = exampleOf(law);
  const grid = buildGrid({ smallest: 1e-7, top: 1e-3, classesPerOctave: 8 });
  const separable = tabulateFragments(grid, choice, law);
  if (separable.kind === 'matrix') return undefined;
  const packed = fragmentMatrix(grid, choice, law);
  const escaping = Float64Array.from(grid.sizes, (_, j) =>
    j === 0 ? 0 : 1 - packed[(j * (j + 1)) / 2 + j]!,
  );
  const leaving = Float64Array.from(grid.sizes, (x) => 2e-4 + 0.9 / (1 + (x / 3e-5) ** 4));
  const breakage = Float64Array.from(grid.sizes, (x) => 8 * -Math.expm1(-x / 1e-4));
  const feed = new Float64Array(grid.classes);
  feed[grid.classes - 3] = 0.7;
  feed[40] = 0.3;
  const [fast, slow] = [new Float64Array(grid.classes), new Float64Array(grid.classes)];
  const a = solveTriangular(separable, leaving, breakage, feed, fast);
  const b = solveTriangular({ kind: 'matrix', packed, escaping }, leaving, breakage, feed, slow);
  if (!isNear(a, b, OF_RATIO)) return `${told(a)} against ${told(b)}`;
  return firstOf(fast.entries(), ([i, h]) =>
    (slow[i] === 0 ? h === 0 : isNear(h, slow[i]!, OF_RATIO))
      ? undefined
      : `${told(h)} against ${told(slow[i])}`,
  );
}
