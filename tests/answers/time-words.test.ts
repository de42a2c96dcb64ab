import { expect, test } from 'vitest';
import type { TimeResult } from '../../src/answers/time/time-run.ts';
import { sampleWords, timeSentences, warmSentence } from '../../src/answers/time/time-words.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';

const SCENARIO = { components: [{ material: { name: 'sugar' } }], blocks: {} } as unknown as Scenario;
const RESULT = {
  series: {
    chokedAt: Number.POSITIVE_INFINITY,
    time: [0, 600, 1200, 1201, 1203],
    holdup: [0, 2, 2, 1, 0.01],
  },
  events: [{ at: 1200, rate: 0 }],
  trips: [],
  masses: [
    { from: 0, fed: 100, product: 99, outOfSpec: 0.2 },
    { from: 1200, fed: 0, product: 0.5, outOfSpec: 0.4 },
  ],
  judged: true,
  fedBeforeSample: 19.66,
  atOnce: 0.945,
  settled: [
    { from: 0, mill: 3.75, sample: 236 },
    { from: 1200, mill: 4, sample: 200 },
  ],
  spread: {
    x50: { mean: 30, deviation: 0.03 },
    x95: { mean: 70, deviation: 0.14 },
    feedRate: { mean: 300, deviation: 12 },
  },
  warm: 3300,
  coldShift: -0.029,
  choked: false,
} as unknown as TimeResult;

test('start, warm-up, a stop and the feeder, each in one sentence', () => {
  expect(timeSentences(SCENARIO, RESULT)).toEqual([
    'the mill reaches steady state 3.75 s after the start, a sample behind duct and cyclone after 236 s: sample from 4 min on.',
    'The outlet temperature shows 95 % of its rise at once and is within 1 K of its steady value after 55 min; a cold casing makes x95 2.9 % finer.',
    '19.7 kg of powder are fed before the first good sample.',
    'Product out of specification: 0.2 kg of 99 kg from the start; 0.4 kg of 0.5 kg after the feed stop at 20 min.',
    'Feed stopped at 20 min: 99 % of the hold-up has left 3 s later. The rotor and the wheel still turn.',
    'Feeder variation of 4 % gives a scatter of 0.1 % in x50 and 0.2 % in x95 from sample to sample.',
  ]);
});

test('a change of feed says when to sample again', () => {
  const changed = { ...RESULT, events: [{ at: 1200, rate: 0.1 }] } as TimeResult;
  expect(timeSentences(SCENARIO, changed)[4]).toBe(
    'After the change at 20 min the mill reaches its new steady state in 4 s, a sample behind duct and cyclone after 200 s: sample from 3.5 min on.',
  );
});

test('a mill that passes its load limit says so and no more', () => {
  const choked = { ...RESULT, choked: true, series: { ...RESULT.series, chokedAt: 75.2 } } as TimeResult;
  expect(timeSentences(SCENARIO, choked)).toEqual([
    'the mill chokes: it passes its load limit 75.2 s after the start.',
  ]);
});

test.each([
  [240, 'a sample behind duct and cyclone after 240 s: sample from 4 min on'],
  [241, 'a sample behind duct and cyclone after 241 s: sample from 4.5 min on'],
  [Number.NaN, 'a sample not within the time computed: make time.duration longer'],
])('a sample settled after %d s', (seconds, words) => {
  expect(sampleWords(seconds)).toBe(words);
});

test.each([
  [0.03, '; a cold casing makes x95 3 % coarser.'],
  [-0.03, '; a cold casing makes x95 3 % finer.'],
  [Number.NaN, '; with a cold casing the mill would choke.'],
])('a cold mill: %d', (shift, end) => {
  expect(warmSentence({ atOnce: 0.95, warm: 600, coldShift: shift })).toBe(
    `The outlet temperature shows 95 % of its rise at once and is within 1 K of its steady value after 10 min${end}`,
  );
});
