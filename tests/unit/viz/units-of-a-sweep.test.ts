import { beforeAll, describe, expect, test } from 'vitest';
import type { RidgeInput } from '../../../src/answers/capacity-ridge.ts';
import type { ReportParts } from '../../../src/viz/report/parts.ts';
import { demo, sweepParts } from '../../browser/sweep-page.ts';
import { close } from '../../close.ts';

/** The same feeds and speeds in other units are the same sweep: 1 t/h = 1000 kg/h. */
const swept = async (feeds: string, goal = 'maximise feedRate'): Promise<ReportParts> =>
  sweepParts(
    await demo([
      'sweep.factors.rotorSpeed.steps=3',
      'sweep.factors.wheelSpeed.steps=5',
      'sweep.factors.wheel=[medium-leaning]',
      `sweep.factors.feedRate=${feeds}`,
      `goal=${goal}`,
    ]),
  );
const KILOGRAMS = '{ from: 100 kg/h, to: 500 kg/h, steps: 5 }';
const TONNES = '{ from: 0.1 t/h, to: 0.5 t/h, steps: 5 }';

const wordsIn = ({ body }: ReportParts): string =>
  /<section[^>]*id="answer"[\s\S]*?<\/section>/.exec(String(body.text))![0];

describe('a sweep of feeds in t/h', () => {
  let inKilograms: ReportParts;
  let inTonnes: ReportParts;
  beforeAll(async () => {
    inKilograms = await swept(KILOGRAMS);
    inTonnes = await swept(TONNES);
  }, 60_000);

  test('recommends what the same in kg/h does', () => {
    expect(wordsIn(inTonnes)).toMatch(/\s\d{3}\skg\/h:/);
    expect(wordsIn(inTonnes)).toBe(wordsIn(inKilograms));
  });

  test('has its capacity in kg/h, as the axis says', () => {
    const feeds = ({ offer }: ReportParts) =>
      (offer.figures.find(({ figure }) => figure === 'ridge')!.input as RidgeInput).lines[0]!.feed;
    expect(Math.max(...feeds(inKilograms).filter(Number.isFinite))).toBeGreaterThan(300);
    feeds(inKilograms).forEach((feed, k) => {
      if (Number.isNaN(feed)) expect(feeds(inTonnes)[k]).toBeNaN();
      else close(feeds(inTonnes)[k]!, feed, 1e-9);
    });
  });

  test('serves a goal made of settings alike', async () => {
    const goal = 'maximise motorLoad - 3 * feedRate / (1000 kg/h)';
    expect(wordsIn(await swept(TONNES, goal))).toBe(wordsIn(await swept(KILOGRAMS, goal)));
  });
});
