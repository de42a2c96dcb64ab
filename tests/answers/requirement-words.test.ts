import { describe, expect, test } from 'vitest';
import { endWords } from '../../src/answers/limit-words.ts';
import { amountText } from '../../src/answers/verdict-words.ts';
import { inSigns, requirementTopic, requirementWords } from '../../src/answers/words.ts';
import { demo, requirement, requiring } from './cases.ts';

describe('a requirement in words', () => {
  test.each([
    ['passing(75 um) >= 95 %', '95 % below 75 µm', 'fineness'],
    ['passing(75 um) > 95 %', 'more than 95 % below 75 µm', 'fineness'],
    ['passing(10 um) <= 25 %', 'at most 25 % below 10 µm', 'fineness'],
    ['passing(10 um) < 10 %', 'less than 10 % below 10 µm', 'fineness'],
    ['oversize(75 um) <= 5 %', 'at most 5 % above 75 µm', 'fineness'],
    ['oversize(0.2 mm) >= 40 %', '40 % above 200 µm', 'fineness'],
    ['x50 >= 20 um', 'x50 at least 20 µm', 'fineness'],
    ['x97 < 0.1 mm', 'x97 less than 0.1 mm', 'fineness'],
    ['outletTemperature <= 50 degC', 'outlet temperature at most 50 °C', 'outlet temperature'],
    ['motorLoad <= 90 %', 'motor load at most 90 %', 'motor load'],
    ['feedRate >= 400 kg/h', 'feed rate at least 400 kg/h', 'feed rate'],
    ['feedRate > 0.4 t/h', 'feed rate more than 0.4 t/h', 'feed rate'],
  ])('%s', (text, words, topic) => {
    expect(requirementWords(requirement(text))).toBe(words);
    expect(requirementTopic(requirement(text))).toBe(topic);
  });

  test('in signs where there is little room', () => {
    expect(inSigns('motor load at most 90 %')).toBe('motor load ≤ 90 %');
    expect(inSigns('x50 at least 20 µm')).toBe('x50 ≥ 20 µm');
    expect(inSigns('less than 10 % below 10 µm')).toBe('less than 10 % below 10 µm');
  });

  test.each([
    [6.52, '%', '6.5 percentage points'],
    [1, '%', '1 percentage point'],
    [30, 'kg/h', '30 kg/h'],
    [0.125, '', '0.13'],
  ])('%d %s', (by, unit, words) => {
    expect(amountText(by, unit)).toBe(words);
  });

  test('what ends a range', async () => {
    const scenario = requiring(await demo(), 'x50 >= 20 um', 'motorLoad <= 90 %');
    const words = [0, 1, -1, -2, -3, -4].map((by) => endWords(scenario, { by }));
    expect(words).toEqual([
      'fineness',
      'motor load',
      'choking',
      'the end of the range',
      'the highest speed allowed',
      'the power of the motor',
    ]);
  });
});
