import { beforeAll, expect, test } from 'vitest';
import { compareDocument } from '../../src/answers/compare/compare-document.ts';
import { customerDocument } from '../../src/answers/customer/customer-document.ts';
import { runGradesDocument } from '../../src/answers/grades/run-grades-document.ts';
import { measuredRuns } from '../../src/answers/measured-runs.ts';
import { type PoolAnswer, poolDocument } from '../../src/answers/pool/pool-document.ts';
import { asInFile } from '../../src/answers/recommend.ts';
import { answerOf } from '../../src/answers/report-answer.ts';
import { balanceTable, energyTable, flagsOf, remarksOf, runTable } from '../../src/answers/trial-tables.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { compareWheels } from '../../src/search/compare/comparison.ts';
import { readTrialLogs } from '../../src/trials/log/file.ts';
import type { LoggedTrial } from '../../src/trials/log/logged.ts';
import { demo } from './cases.ts';
import { asText, wholeText, withoutSamples } from './whole.ts';

const LOG = 'scenarios/data/trials/erythritol.csv';
/** Every word and number against a text that was read; `-u` writes it anew, to be read again. */
const same = (text: string, name: string) =>
  expect(withoutSamples(text)).toMatchFileSnapshot(`expected/${name}.txt`);

let scenario: Scenario;
let trials: readonly LoggedTrial[];
beforeAll(async () => {
  scenario = await demo(
    'job.number=K-17',
    'job.customer=A customer',
    'job.author=B. Writer',
    'job.objective=A finer grade',
    'job.conclusion=It can be milled',
    'job.nextStep=A second visit',
  );
  ({ trials } = await readTrialLogs([LOG], scenario));
});

test('what the runs of a log gave, in tables', async () => {
  const tables = [runTable(trials), balanceTable(trials), energyTable(trials)];
  await same(asText({ tables, flags: flagsOf(trials), remarks: remarksOf(trials) }), 'trial-tables');
});

test.each([
  ['with the runs of a log', true],
  ['before any trial', false],
])('the customer’s document %s', async (_, ran) => {
  const taken = ran ? trials : [];
  const answer = answerOf(asInFile(scenario), scenario);
  const runs = measuredRuns(scenario, taken);
  const document = customerDocument({ scenario, answer, trials: taken, runs, operator: false });
  await same(wholeText(document), ran ? 'customer-runs' : 'customer');
});

test('every grade at one point', async () => {
  const graded = await loadScenario('scenarios/erythritol-grades.yaml');
  await same(wholeText(runGradesDocument(graded, [], 'engineer')), 'grades-run');
});

test('wheels side by side', async () => {
  await same(wholeText(compareDocument(scenario, compareWheels(scenario))), 'compare');
});

test('what campaigns say of a machine', async () => {
  const coefficient = (symbol: string, campaigns: number, between: number) => ({
    values: [[`machine.rotor.coefficients.${symbol}`, 1.1] as const],
    symbol,
    unit: symbol === 'χ_P' ? '1' : 'W/K',
    value: 1.1,
    error: 0.04,
    between,
    spread: 0.06,
    campaigns,
  });
  const answer: PoolAnswer = {
    side: 'machine',
    of: 'pilot mill',
    campaigns: ['a.yaml', 'b.yaml', 'c.yaml'],
    misfits: ['b.yaml'],
    coefficients: [coefficient('χ_P', 3, 0.09), coefficient('U', 2, 0.01), coefficient('ψ', 0, 0)],
    entry: 'from: pilot-300\n',
  };
  await same(wholeText(poolDocument(answer)), 'pool');
  await same(wholeText(poolDocument({ ...answer, misfits: [], file: 'ours.yaml' })), 'pool-written');
});
