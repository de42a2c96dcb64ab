import { expect, test } from 'vitest';
import { loadScenario } from '../../../src/scenario/load.ts';
import { sweepParts } from '../../browser/sweep-page.ts';

const FACTORS =
  'sweep={ factors: { wheelSpeed: { from: 1500 rpm, to: 3000 rpm, steps: 2 }, feedRate: { from: 150 kg/h, to: 250 kg/h, steps: 2 } } }';

test('the report of a sweep of a blend says what its minor component does', async () => {
  const blend = await loadScenario('scenarios/erythritol-flow-agent.yaml', { set: [FACTORS] });
  const { text } = sweepParts(blend).body;
  expect(text).toContain('href="#blend"');
  expect(text).toMatch(/<section id="blend">[\s\S]*alone[\s\S]*the blend/);
});
