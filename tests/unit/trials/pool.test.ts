import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parse, stringify } from 'yaml';
import { poolDocument } from '../../../src/answers/pool/pool-document.ts';
import { demoCase, loadScenario } from '../../../src/scenario/load.ts';
import { valueAt } from '../../../src/scenario/operating-point.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { madeOf } from '../../../src/trials/calibration/made-of.ts';
import { posteriorOf } from '../../../src/trials/calibration/take-up.ts';
import { priorOf } from '../../../src/trials/fit/coefficients.ts';
import type { Posterior } from '../../../src/trials/fit/fit.ts';
import { pooledEntry } from '../../../src/trials/pool/entry.ts';
import { type PooledCampaign, pooled } from '../../../src/trials/pool/pool.ts';
import { randomEffects } from '../../../src/trials/pool/random-effects.ts';
import { readCampaigns } from '../../../src/trials/pool/read-campaigns.ts';
import { close } from '../../close.ts';
import { grindloop } from '../../program.ts';

const folder = mkdtempSync(join(tmpdir(), 'pool-'));
let scenario: Scenario;
let known: Posterior;
beforeAll(async () => {
  scenario = await loadScenario(demoCase('erythritol'));
  known = posteriorOf(scenario);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const POWER = 'machine.rotor.coefficients.powerFactor';
const CUT = 'machine.wheels.medium-leaning.coefficients.cutFactor';

/** What is left of the prior after trials that alone say `value` ± `error` of a coefficient, along its scale (Bayes, by hand). */
function informedBy(path: string, value: number, error: number, from = known): Posterior {
  const i = from.prior.coefficients.findIndex((one) => one.path === path);
  const before = from.prior.covariance.get(i, i);
  const variance = 1 / (1 / before + 1 / error ** 2);
  const covariance = from.covariance.clone();
  covariance.set(i, i, variance);
  const mean = [...from.mean];
  mean[i] = variance * (from.prior.mean[i]! / before + value / error ** 2);
  return { ...from, mean, covariance };
}

describe('random effects', () => {
  test('two estimates 0 and 1 of variance 0.1: μ 0.5, Q 5, τ² 0.4, variance 0.25 (by hand)', () => {
    const { value, variance, between } = randomEffects([
      { value: 0, variance: 0.1 },
      { value: 1, variance: 0.1 },
    ]);
    close(value, 0.5, 1e-12);
    close(between, 0.4, 1e-12);
    close(variance, 0.25, 1e-12);
  });
  test('six studies of a textbook: μ 0.358, standard error 0.105, τ² 0.037', () => {
    // Borenstein, Hedges, Higgins & Rothstein, Introduction to Meta-Analysis (Wiley 2009), chapter 14, from memory; its data are
    // printed to three decimals, which leaves τ² open by about 0.001
    const rows = [
      [0.095, 0.033],
      [0.277, 0.031],
      [0.367, 0.05],
      [0.664, 0.011],
      [0.462, 0.043],
      [0.185, 0.023],
    ] as const;
    const found = randomEffects(rows.map(([value, variance]) => ({ value, variance })));
    expect(Math.abs(found.value - 0.358)).toBeLessThan(1.5e-3);
    expect(Math.abs(Math.sqrt(found.variance) - 0.1055)).toBeLessThan(1e-3);
    expect(Math.abs(found.between - 0.0373)).toBeLessThan(1.5e-3);
  });
  test('estimates that scatter no more than their errors differ by nothing, and average as 1/v', () => {
    const found = randomEffects([1, 1.02, 0.99, 1.01].map((value) => ({ value, variance: 0.01 })));
    expect(found.between).toBe(0);
    close(found.variance, 0.0025, 1e-12);
  });
});

describe('campaigns pooled', () => {
  const campaign = (posterior: Posterior, wheels?: readonly string[]): PooledCampaign => ({
    name: 'cal.yaml',
    posterior,
    ...(wheels ? { wheels } : {}),
  });
  const powerOf = (campaigns: readonly PooledCampaign[]) =>
    pooled(campaigns, 'machine').find(({ values }) => values[0]![0] === POWER)!;

  test('count the belief once: four campaigns of ln 1.2 ± 0.1 are the belief with one of ± 0.05', () => {
    const four = Array.from({ length: 4 }, () => campaign(informedBy(POWER, Math.log(1.2), 0.1)));
    const { value, error, between, spread, campaigns } = powerOf(four);
    const weight = 1 / 0.05 ** 2;
    const belief = 1 / 0.3 ** 2;
    close(value, Math.exp((Math.log(1.2) * weight) / (weight + belief)), 1e-9);
    close(error, 1 / Math.sqrt(weight + belief), 1e-9);
    expect(between).toBe(0);
    close(spread, error, 1e-12);
    expect(campaigns).toBe(4);
  });
  test('that differ from each other leave a spread for the next, wider than the error of the mean', () => {
    const apart = [-0.2, -0.1, 0.1, 0.2].map((value) => campaign(informedBy(POWER, value, 0.01)));
    const { error, between, spread } = powerOf(apart);
    // variance of −0.2, −0.1, 0.1, 0.2 about 0 over k − 1 is 1/30; less the 0.01² of each
    close(between, Math.sqrt(1 / 30 - 1e-4), 1e-3);
    close(spread, Math.hypot(error, between), 1e-9);
  });
  test('say nothing of what they did not move, nor of a wheel they did not run', () => {
    expect(powerOf([campaign(known), campaign(known)])).toMatchObject({ campaigns: 0, value: 1 });
    const run = informedBy(CUT, 0.3, 0.02);
    const cut = (wheels: readonly string[]) =>
      pooled([campaign(run, wheels), campaign(run, wheels)], 'machine').find(
        ({ values }) => values[0]![0] === CUT,
      )!;
    expect(cut(['medium-leaning']).campaigns).toBe(2);
    expect(cut(['medium-radial'])).toMatchObject({ campaigns: 0, value: 1 });
  });
  test('of the material are its breakage alone', () => {
    const paths = pooled([campaign(known)], 'material').map(({ values }) => values[0]![0]);
    expect(paths.every((path) => path.startsWith('material.'))).toBe(true);
    expect(paths.length).toBeGreaterThan(2);
  });
});

describe('an entry', () => {
  test('is taken up by a scenario: its values, and its spreads as the priors of a fit', async () => {
    const campaigns = [0.18, 0.22].map((value) => ({
      name: 'cal.yaml',
      posterior: informedBy(CUT, value, 0.05, informedBy(POWER, 0.1, 0.1)),
      wheels: ['medium-leaning'],
    }));
    const coefficients = pooled(campaigns, 'machine');
    const head = { from: 'pilot-300', campaigns: ['cal-1.yaml', 'cal-2.yaml'], date: '2026-01-02' };
    const entry = pooledEntry(coefficients, 'machine', head);
    writeFileSync(join(folder, 'ours.yaml'), entry);
    const text = readFileSync(demoCase('erythritol'), 'utf8').replace('from: pilot-300', 'from: ours.yaml');
    writeFileSync(join(folder, 'next.yaml'), text);
    const next = await loadScenario(join(folder, 'next.yaml'));
    expect(next.machine.name).toBe(scenario.machine.name);
    const before = new Map(known.prior.coefficients.map((one) => [one.path, one]));
    const prior = priorOf(next).coefficients;
    for (const { values, spread, campaigns: count } of coefficients) {
      const [path, value] = values[0]!;
      close(valueAt(next, path) as number, value, 1e-5);
      const one = prior.find((each) => each.path === path)!;
      if (count === 0) close(one.spread, before.get(path)!.spread, 1e-2);
      else expect(one.spread).toBeLessThan(0.6 * before.get(path)!.spread);
      if (path === POWER) close(one.spread, spread, 1e-2);
    }
    expect(next.provenance[CUT]).toMatchObject({ label: 'fitted' });
    // what no campaign ran does not inherit what another wheel showed
    expect(next.provenance['machine.wheels.medium-radial.coefficients.cutFactor']!.label).toBe('assumed');
  });
  test('a measured spread is the prior, of a number nothing else is believed of as well', async () => {
    const coefficients =
      'coefficients: { sharpness: { value: 0.62, label: measured, source: grade, spread: 3 % }, leakage: { value: 0.001, label: measured, source: grade, spread: 20 % } }';
    const text = readFileSync(demoCase('erythritol'), 'utf8').replace(
      'machine: { from: pilot-300 }',
      `machine: { from: pilot-300, wheels: { long-leaning: { ${coefficients} } } }`,
    );
    writeFileSync(join(folder, 'graded.yaml'), text);
    const { coefficients: prior } = priorOf(await loadScenario(join(folder, 'graded.yaml')));
    const at = (path: string) => prior.find((one) => one.path === `machine.wheels.${path}`)!;
    close(at('long-leaning.coefficients.sharpness').spread, 0.03, 1e-9);
    close(at('medium-radial.coefficients.sharpness').spread, 0.2, 1e-9);
    expect(at('long-leaning.coefficients.leakage')).toMatchObject({ prior: 0.001, wheel: 'long-leaning' });
    close(at('long-leaning.coefficients.leakage').spread, 0.2, 1e-9);
  });
});

describe('pool, the command', () => {
  /** A calibration file with what pooling reads of it. */
  const file = (name: string, value: number, of: Record<string, unknown> = {}): string => {
    const { prior, mean, covariance, discrepancy } = informedBy(POWER, value, 0.1);
    const path = join(folder, name);
    writeFileSync(
      path,
      stringify({
        of: { ...madeOf(scenario, [{ name: 'run', scenario }]), ...of },
        fit: { lackOfFit: false },
        joint: {
          discrepancy,
          coefficients: prior.coefficients.map((one) => ({ ...one, lower: undefined, upper: undefined })),
          mean,
          covariance: covariance.to2DArray(),
          priorCovariance: prior.covariance.to2DArray(),
        },
      }),
    );
    return path;
  };

  test('writes the entry and says first how many coefficients are determined', async () => {
    const files = [file('a.yaml', 0.1), file('b.yaml', 0.2), file('c.yaml', 0.15)];
    const entry = join(folder, 'entry.yaml');
    const { code, out, err } = await grindloop('pool', ...files, '-o', entry);
    expect(err).toBe('');
    expect(code).toBe(0);
    expect(out).toMatch(
      /3 campaigns determine 1 of the \d+ coefficients of the machine pilot mill, 300 mm rotor/,
    );
    const written = parse(readFileSync(entry, 'utf8'));
    expect(written.from).toBe('pilot-300');
    expect(Number(written.rotor.coefficients.powerFactor.value)).toBeGreaterThan(1.1);
    const json = JSON.parse((await grindloop('pool', ...files, '--json')).out);
    expect(json.campaigns).toEqual(['a.yaml', 'b.yaml', 'c.yaml']);
  });
  test('refuses one file, other machines, a mixture and a file that is no calibration, all at once', async () => {
    const good = file('good.yaml', 0.1);
    const other = file('other.yaml', 0.1, { machine: 'mill two' });
    writeFileSync(join(folder, 'no.yaml'), 'title: a case\n');
    const { code, err } = await grindloop(
      'pool',
      good,
      other,
      join(folder, 'no.yaml'),
      join(folder, 'gone.yaml'),
    );
    expect(code).toBe(1);
    expect(err).toMatch(/other\.yaml: is of the machine "mill two", .*good\.yaml of "pilot mill/);
    expect(err).toMatch(/no\.yaml: is no calibration that fit wrote/);
    expect(err).toMatch(/gone\.yaml: cannot be read/);
    expect((await grindloop('pool', good)).err).toMatch(/pool takes two calibrations or more/);
    const mixed = {
      name: 'm.yaml',
      text: readFileSync(file('m.yaml', 0.1, { materials: ['a', 'b'] }), 'utf8'),
    };
    expect(readCampaigns([mixed], 'material').faults[0]!.message).toMatch(/mixture \(a, b\)/);
    // the demo types its material in the file, so there is no entry to lay the coefficients over
    expect((await grindloop('pool', good, file('g2.yaml', 0.2), '--material')).err).toMatch(
      /^--from: .*do not all take their material from one entry/m,
    );
  });
  test('names what differs from campaign to campaign, and a fit that does not fit', () => {
    const campaigns = [-0.3, 0.3, 0.1].map((value) => ({
      name: 'x',
      posterior: informedBy(POWER, value, 0.02),
    }));
    const document = poolDocument({
      side: 'machine',
      of: 'mill',
      campaigns: ['1', '2', '3'],
      misfits: ['2'],
      coefficients: pooled(campaigns, 'machine'),
      entry: '',
    });
    expect(document.answer[1]).toMatch(/^From campaign to campaign χ_P differs by more than the error/);
    expect(document.notes.join(' ')).toContain('2 does not fit within its measuring errors');
    expect(document.notes.join(' ')).toContain('With 3 campaigns');
  });
});
