import { expect, test } from 'vitest';
import type { Case } from '../../src/model/case.ts';
import { fixedBy } from '../../src/model/loop/fixed.ts';
import { classesPerOctave, piledUpSize } from '../../src/model/loop/grid-needed.ts';
import { sizeAt } from '../../src/model/psd/curve.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import { changed, PILOT } from '../cases.ts';
import { uniform, wideChange } from '../reference/random-cases.ts';

const SHARES = [0.1, 0.5, 0.9, 0.95, 0.97, 0.99];
/** More passes than these no mill makes: a wheel holds back nearly all that its hits cannot break. */
const MOST_PASSES = 300;

/** Settings of every law, far wider than a mill test centre meets. */
function anyLaws(random: () => number): Case {
  const between = (low: number, high: number) => low + (high - low) * random();
  const log = (low: number, high: number) => low * (high / low) ** random();
  const pick = <T>(choices: readonly T[]): T => choices[Math.floor(random() * choices.length)]!;
  const c = changed(PILOT, wideChange(random));
  const { selection, fragments } = c.components[0]!.material;
  return changed(c, {
    material: {
      selection: pick([
        selection,
        selection,
        {
          law: 'log-energy',
          slope: between(0.1, 0.4),
          energy: log(50, 500),
          exponent: between(0.3, 1),
          referenceSize: 1e-3,
        },
        {
          law: 'table',
          referenceSpeed: 80,
          points: [
            [log(5e-6, 30e-6), 0],
            [60e-6, 0.2],
            [500e-6, 0.9],
          ],
        },
      ]),
      fragments: pick([
        fragments,
        {
          law: 'two-power',
          fineShare: between(0.2, 0.7),
          fineExponent: between(0.4, 1.2),
          coarseExponent: between(2, 6),
        },
        { law: 'power', exponent: between(0.5, 2) },
        { law: 'truncated-exponential' },
      ]),
    },
    efficiency: { law: pick(['rosin-rammler', 'logistic', 'diffusion', 'exponential', 'log-normal']) },
  });
}

function resultsOf(c: Case, perOctave: number): number[] | undefined {
  const point = solvePoint(changed(c, { loop: { classesPerOctave: perOctave } }), { choke: false });
  if (point.status !== 'steady') return undefined;
  const { circulating, conditions } = point.state;
  return [
    ...SHARES.map((share) => sizeAt(point.curve, share)),
    circulating / c.settings.feedRate,
    conditions.rotorPower,
  ];
}

test('a grind limit above the cut: sizes, passes and power within 0.5 % of 64 classes per octave, for every law', () => {
  const random = uniform(11);
  let compared = 0;
  let worst = 0;
  while (compared < 60) {
    const c = anyLaws(random);
    if (piledUpSize(c, fixedBy(c), c.components[0]!) === 0) continue;
    const own = resultsOf(c, 8);
    if (!own || own[6]! > MOST_PASSES) continue;
    const fine = resultsOf(c, 64)!;
    compared++;
    own.forEach((value, i) => {
      worst = Math.max(worst, Math.abs(value / fine[i]! - 1));
    });
  }
  console.info(`grind limit above the cut: ${compared} settings, worst error ${(100 * worst).toFixed(2)} %`);
  expect(worst).toBeLessThan(5e-3);
});

test('the finer grid is taken exactly where hits break nothing of the size of the cut', () => {
  const at = (rotorSpeed: number) => changed(PILOT, { settings: { rotorSpeed, wheelSpeed: 75 } });
  expect(classesPerOctave(at(90 / (Math.PI * 0.3)))).toBe(8);
  expect(classesPerOctave(at(50 / (Math.PI * 0.3)))).toBe(32);
  expect(classesPerOctave(changed(at(50 / (Math.PI * 0.3)), { loop: { circuit: 'open' } }))).toBe(8);
});
