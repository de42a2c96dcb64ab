import { describe, expect, test } from 'vitest';
import { plantDocument } from '../../src/answers/plant/plant-document.ts';
import {
  heatSentence,
  productSentence,
  utilisationSentence,
  utilisations,
} from '../../src/answers/plant/plant-words.ts';
import type { PlantState } from '../../src/plant/plant-state.ts';
import { loadScenario } from '../../src/scenario/load.ts';

const DEMO = 'scenarios/erythritol.yaml';

/** As much of a plant as a sentence reads. */
const plantWith = (part: object) => part as unknown as PlantState;
const product = (temperatureMargin: number, humidityMargin: number, dewMargin: number) =>
  productSentence(plantWith({ moisture: { temperatureMargin, humidityMargin, dewMargin } }));

describe('the sentence on the product', () => {
  test.each([
    [
      12,
      0.1,
      15,
      "Product: 12 K below the product's temperature limit; stored humidity 10 percentage points below the critical humidity; coldest wall 15 K above the dew point.",
    ],
    [
      -3,
      -0.05,
      15,
      "Product: 3 K above the product's temperature limit; stored humidity 5 percentage points above the critical humidity: the product may cake; coldest wall 15 K above the dew point.",
    ],
    [
      Number.NaN,
      Number.NaN,
      -2,
      'Product: no temperature limit is given; no critical humidity is given; coldest wall 2 K below the dew point.',
    ],
    [
      0.5,
      Number.NaN,
      1,
      "Product: 0.5 K below the product's temperature limit; no critical humidity is given; coldest wall 1 K above the dew point.",
    ],
  ])('%d K, %d, %d K', (heat, humidity, dew, words) => {
    expect(product(heat, humidity, dew)).toBe(words);
  });
});

describe('the unit used most', () => {
  const state = (filter: number, lock: number, given: boolean) =>
    plantWith({
      march: {
        filter: { unit: { given, airToCloth: filter, pressureLoss: 500 } },
        cyclone: { lock: { given, use: lock } },
      },
      feeder: { given: false, use: 2 },
      fan: { speed: Number.NaN, motorUse: Number.NaN },
      plant: { filter: { airToCloth: 1, highestLoss: 1000 } },
    });
  test('is named with its share, the largest first', () => {
    const used = utilisations(state(0.92, 0.6, true));
    expect(used.map(({ share }) => share)).toEqual([0.92, 0.6, 0.5]);
    expect(utilisationSentence(used)).toBe(
      'Highest utilisation among the units given: air-to-cloth ratio of the filter, 92 %.',
    );
    expect(utilisationSentence(utilisations(state(0.4, 0.97, true)))).toBe(
      'Highest utilisation among the units given: airlock under the cyclone, 97 %.',
    );
  });
  test('a unit sized for the point does not count', () => {
    expect(utilisationSentence(utilisations(state(0.92, 0.6, false)))).toBe(
      'No unit is given: every one is sized for this point, so none of them limits it.',
    );
  });
});

test.each([
  [0, 'no loss through the walls is counted'],
  [200, '0.8 kW of it is lost through the walls'],
  [-100, '0.4 kW comes in through the walls'],
])('heat through the walls: %d W in each of four units', (heat, words) => {
  const unit = { heat };
  const sentence = heatSentence(
    plantWith({
      state: { conditions: { rotorPower: 9000, wheelPower: 500 } },
      fan: { power: 3600 },
      march: { mill: unit, conveying: unit, cyclone: unit, filter: unit },
    }),
  );
  expect(sentence).toBe(`Heat: rotor 9 kW, wheel 0.5 kW, fan 3.6 kW; ${words}.`);
});

test("the figure of the air path has every place and the product's limit where it is given", async () => {
  const document = plantDocument(
    await loadScenario(DEMO, { set: ['plant.product.highestTemperature=60 degC'] }),
  );
  const data = document.sections[0]!.figures![0]!.data as {
    rows: string[];
    panels: { limit?: { at: number; words: string } }[];
    caption: string;
  };
  expect(data.rows[0]).toBe('outside');
  expect(data.rows.at(-1)).toBe('behind the fan');
  expect(data.panels[1]!.limit).toEqual({ at: expect.closeTo(60, 9), words: 'product limit 60 °C' });
  expect(data.caption).toMatch(
    /furthest below the outside pressure at the fan inlet \(\d+ Pa\) and hottest behind the fan \([\d.]+ °C\)\./,
  );
});
