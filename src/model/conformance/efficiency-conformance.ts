import type { EfficiencyLaw } from '../wheel/efficiency/efficiency-law.ts';
import { exampleOf } from './example.ts';
import { headerFaults } from './law-header.ts';
import { brokenRules, firstOf, geometric, isNear, type Rule, told } from './rule.ts';

/** What a wheel can have: a law must express at least these. */
const BLUNT = 0.5;
const SHARP = 0.7;
const ROUNDING = 1e-15;

/** Where a grade-efficiency law does not hold to what every one must, a sentence each; empty where it conforms. */
export function efficiencyFaults(law: EfficiencyLaw): string[] {
  const header = headerFaults(law);
  if (header.length > 0) return header;
  const range = brokenRules([rangeRule(law)]);
  return range.length > 0 ? range : brokenRules([...shapeRules(law), ...fillRules(law)]);
}

function rangeRule({ sharpnessRange }: EfficiencyLaw): Rule {
  return {
    must: `have a sharpnessRange [low, high] within 0 to 1 that holds ${BLUNT} to ${SHARP}`,
    broken: () => {
      const [low, high] = sharpnessRange;
      return low > 0 && low <= BLUNT && high >= SHARP && high < 1
        ? undefined
        : `it is ${told(low)} to ${told(high)}`;
    },
  };
}

function shapeRules(law: EfficiencyLaw): Rule[] {
  const sharpnesses = sharpnessesOf(law);
  const at = passingOf(law);
  const given = (sharpness: number): string => `with a sharpness of ${told(sharpness)}`;
  return [
    {
      must: 'pass one half at the cut size',
      broken: () =>
        firstOf(sharpnesses, (k) =>
          isNear(at(k)(1), 0.5, 1e-13) ? undefined : `${told(at(k)(1))} ${given(k)}`,
        ),
    },
    {
      must: 'have the sharpness x25/x75 it is given',
      broken: () =>
        firstOf(sharpnesses, (k) => {
          const own = sizeAt(at(k), 0.25) / sizeAt(at(k), 0.75);
          return isNear(own, k, 1e-9) ? undefined : `${told(own)} ${given(k)}`;
        }),
    },
    {
      must: 'pass from all to none, never more of a coarser size',
      broken: () =>
        firstOf(sharpnesses, (k) => {
          const passing = at(k);
          const rising = geometric(1e-6, 1e4, 1.1).find(
            (z) =>
              !(
                passing(1.1 * z) <= passing(z) + ROUNDING &&
                passing(1.1 * z) >= 0 &&
                passing(z) <= 1 + ROUNDING
              ),
          );
          if (rising !== undefined)
            return `${told(passing(1.1 * rising))} after ${told(passing(rising))} ${given(k)}`;
          if (!(passing(1e-12) > 0.98)) return `only ${told(passing(1e-12))} of the finest ${given(k)}`;
          return passing(1e6) < 1e-3 ? undefined : `${told(passing(1e6))} of the coarsest ${given(k)}`;
        }),
    },
    {
      must: 'pass more below the cut and less above where it is sharper',
      broken: () => {
        const [blunt, sharp] = [at(BLUNT), at(SHARP)];
        return firstOf([0.2, 0.5, 0.9, 1.1, 2, 5], (z) => {
          const gain = (sharp(z) - blunt(z)) * (z < 1 ? 1 : -1);
          return gain >= -ROUNDING ? undefined : `not at ${told(z)} times the cut size`;
        });
      },
    },
    {
      must: 'keep its digits far above the cut',
      broken: () => {
        if (law.table) return undefined;
        const passing = at(0.6);
        return passing(3) > passing(3.03) && passing(3.03) > 0
          ? undefined
          : `${told(passing(3))} at 3 and ${told(passing(3.03))} at 3.03 times the cut size`;
      },
    },
  ];
}

/** Classes of the grid on which a fast fill is compared, and where it is taken up again. */
const CLASSES = 150;
const AGAIN = 100;
const APART = 0.3;

function fillRules(law: EfficiencyLaw): Rule[] {
  const { fillPassing } = law;
  if (!fillPassing) return [];
  const choice = exampleOf(law);
  return [
    {
      must: 'fill a grid with what it gives class by class',
      broken: () =>
        firstOf(sharpnessesOf(law), (sharpness) => {
          const shape = law.shape(sharpness, choice);
          const finer = new Float64Array(CLASSES).fill(Number.NaN);
          const coarser = new Float64Array(CLASSES).fill(Number.NaN);
          const logRatio = Math.LN2 / 8;
          const passing = { finer, coarser };
          fillPassing(1e-3, logRatio, APART * logRatio, shape, passing, 0, AGAIN, 0);
          fillPassing(1e-3, logRatio, APART * logRatio, shape, passing, AGAIN, CLASSES, 0);
          return firstOf([...finer, ...coarser].entries(), ([k, value]) => {
            const i = k < CLASSES ? k - APART : k - CLASSES + APART;
            const wanted = law.passing(1e-3 * Math.exp(i * logRatio), shape, choice);
            return agrees(value, wanted, shape)
              ? undefined
              : `${told(value)}, not ${told(wanted)}, in class ${told(i)}`;
          });
        }),
    },
  ];
}

/** Rounding of z is raised to the shape by the law itself. */
function agrees(value: number, wanted: number, shape: number): boolean {
  if (!(Math.abs(value - wanted) < 1e-13)) return false;
  if (wanted <= 1e-280) return value < 1e-279;
  return isNear(value, wanted, (2e-14 + 2e-15 * shape) * Math.max(1, -Math.log(wanted)));
}

function sharpnessesOf({ sharpnessRange: [low, high] }: EfficiencyLaw): number[] {
  return [low, 0.45, 0.6, 0.8, high].filter((sharpness) => sharpness >= low && sharpness <= high);
}

function passingOf(law: EfficiencyLaw): (sharpness: number) => (z: number) => number {
  const choice = exampleOf(law);
  return (sharpness) => {
    const shape = law.shape(sharpness, choice);
    return (z) => law.passing(z, shape, choice);
  };
}

/** z where T reaches a share, by bisection on the law itself. */
function sizeAt(passing: (z: number) => number, share: number): number {
  let [low, high] = [-20, 5];
  for (let step = 0; step < 100; step++) {
    const middle = (low + high) / 2;
    if (1 - passing(Math.exp(middle)) > share) high = middle;
    else low = middle;
  }
  return Math.exp((low + high) / 2);
}
