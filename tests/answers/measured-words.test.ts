import { expect, test } from 'vitest';
import { type Graded, gradeDocument, gradeSentences } from '../../src/answers/grade/grade-document.ts';
import { scatterSentences, statedSentences } from '../../src/answers/read/read-document.ts';
import type { MeasuredSample } from '../../src/scenario/measurement/measured-sample.ts';
import type { Averaged } from '../../src/scenario/measurement/replicates.ts';
import { gradeAt } from '../../src/trials/grade/efficiency.ts';

const FIT = {
  law: 'rosin-rammler',
  cutSize: 30e-6,
  sharpness: 0.62,
  bypass: 0.1,
  leakage: 0,
  atBound: [],
  errors: { logCut: 0.018, sharpness: 0.0045, bypass: 0.0041, leakage: 0 },
  misfit: 0.012,
} as const;
const graded = (closes: boolean, given: boolean): Graded => ({
  split: {
    sizes: [],
    feed: [],
    fines: [],
    coarse: [],
    finesYield: 0.325,
    yieldError: 0.0055,
    given,
    closes,
    closure: { largest: -0.044, at: 20e-6, rms: 0.02 },
  },
  points: [{ size: 30e-6, toCoarse: 0.55, weight: 0.1 }],
  fit: FIT,
  estimate: 29e-6,
  entry: 'efficiency: rosin-rammler\n',
});

test('grade says cut, sharpness and bypass with their errors, whether the curves close, and the yield', () => {
  expect(gradeSentences(graded(true, false))).toEqual([
    'The cut is 30 µm ± 1.8 %, sharpness 0.62 ± 0.0045, bypass 10 % ± 0.41 %.',
    'The three curves close: the largest gap is 4.4 % at 20 µm, 2 % on average (root mean square).',
    'The fines yield is 32.5 % ± 0.55 % (from the curves).',
    'The rosin-rammler law misses the points by 1.2 % on average (root mean square); the cut from the fines yield and the feed curve alone is 29 µm.',
  ]);
});

test('curves that do not close make a sketch; a yield that was weighed says so', () => {
  const [, closure, yields] = gradeSentences(graded(false, true));
  expect(closure).toMatch(
    /^The three curves do NOT close, so treat the result as a sketch: the largest gap is 4\.4 % at 20 µm/,
  );
  expect(yields).toBe('The fines yield is 32.5 % (weighed).');
});

test('leakage is said where the curves show some', () => {
  const leaking = { ...FIT, leakage: 0.02, errors: { ...FIT.errors, leakage: 0.004 } };
  expect(gradeSentences({ ...graded(true, true), fit: leaking })[0]).toBe(
    'The cut is 30 µm ± 1.8 %, sharpness 0.62 ± 0.0045, bypass 10 % ± 0.41 %, leakage 2 % ± 0.4 %.',
  );
});

test('the figure draws the law through half of what is not bypassed at the cut', () => {
  expect(gradeAt(FIT, 30e-6)).toBeCloseTo(0.1 + 0.9 / 2, 9);
  const { data } = gradeDocument(graded(true, true), 'three curves').sections[0]!.figures![0]!;
  expect((data as { lines: { name: string }[] }).lines.map(({ name }) => name)).toEqual([
    'measured',
    'rosin-rammler',
  ]);
});

const SAMPLE = {
  name: 'run 1',
  points: [
    { size: 10e-6, undersize: 0 },
    { size: 100e-6, undersize: 1 },
  ],
  stated: [{ size: 40e-6, undersize: 0.5 }],
} as unknown as MeasuredSample;

test('a percentile the file states is held against its table where they differ', () => {
  expect(statedSentences(SAMPLE)[0]).toMatch(
    /^the file states x50 40 µm; its table gives [\d.]+ µm \(-?[\d.]+ %\)$/,
  );
  const [point] = statedSentences(SAMPLE)[0]!
    .match(/gives ([\d.]+)/)!
    .slice(1)
    .map(Number);
  const same = { ...SAMPLE, stated: [{ size: point! * 1e-6, undersize: 0.5 }] } as MeasuredSample;
  expect(statedSentences(same)).toEqual([]);
});

test('repeats are accepted within their limit, and not beyond it', () => {
  const averaged = (accepted: boolean) =>
    ({
      repeats: 3,
      scatter: [{ share: 0.5, mean: 30e-6, variation: accepted ? 0.02 : 0.04, limit: 0.03, accepted }],
    }) as unknown as Averaged;
  expect(scatterSentences(averaged(true))[0]).toMatch(/^x50: repeats scatter by 2 % \(limit 3 %, accepted; /);
  expect(scatterSentences(averaged(false))[0]).toMatch(
    /^x50: repeats scatter by 4 % \(limit 3 %, NOT accepted; /,
  );
  expect(scatterSentences({ ...averaged(true), repeats: 1 })).toEqual([
    'One sample: there is no scatter to show.',
  ]);
});
