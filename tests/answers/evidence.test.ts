import { expect, test } from 'vitest';
import { standsOn, unconfirmedWords } from '../../src/answers/evidence-sentence.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import { unconfirmedCoefficients } from '../../src/scenario/outcome/unconfirmed.ts';

const DEMO = 'scenarios/erythritol.yaml';
const WHEEL = 'machine.wheels.medium-leaning.coefficients';
const demo = (...set: string[]) => loadScenario(DEMO, { set });

test('a point has the same unconfirmed coefficients however it is written', async () => {
  const short = unconfirmedCoefficients(await demo());
  // every coefficient typed into the file at the value it has anyway, and one typed over
  const typed = await demo(
    `${WHEEL}.sharpness=0.6`,
    `${WHEEL}.bypass=0.03`,
    'machine.rotor.coefficients.velocityRatio=0.85',
    'machine.loopTime=60 ms',
    'material.selection.friability=0.7 kg/(J m)',
  );
  expect(unconfirmedCoefficients(typed)).toEqual(short);
  expect(typed.provenance[`${WHEEL}.sharpness`]!.label).toBe('given');
  expect(short).toContain(`${WHEEL}.sharpness`);
  expect(short.some((path) => /geometry|motor|settings|medium-radial/.test(path))).toBe(false);
});

test.each(['published', 'measured', 'fitted'])('a label %s confirms a coefficient', async (label) => {
  const before = unconfirmedCoefficients(await demo());
  const after = await demo(`${WHEEL}.sharpness={ value: 0.55, label: ${label}, source: "report 12" }`);
  expect(unconfirmedCoefficients(after)).toEqual(before.filter((path) => path !== `${WHEEL}.sharpness`));
  expect(unconfirmedWords(after)).toBe(
    `It relies on ${before.length - 1} of ${before.length} coefficients not confirmed by any trial, measurement or publication`,
  );
});

test.each(['recalled', 'assumed', 'practice', 'given'])('a label %s does not', async (label) => {
  const before = unconfirmedCoefficients(await demo());
  const after = await demo(`${WHEEL}.sharpness={ value: 0.55, label: ${label}, source: "a guess" }`);
  expect(unconfirmedCoefficients(after)).toEqual(before);
});

test('every document has the same count', async () => {
  const scenario = await demo();
  const count = unconfirmedCoefficients(scenario).length;
  expect(count).toBeGreaterThan(20);
  const words = `It relies on ${count} coefficients not confirmed by any trial`;
  expect(unconfirmedWords(scenario)).toBe(words);
  expect(standsOn(scenario, 'engineer').startsWith(`${words}; of these, motor load depends most on `)).toBe(
    true,
  );
});
