import { describe, expect, test } from 'vitest';
import { QUANTITIES } from '../../../src/scenario/outcome/quantities.ts';
import { grindloopApart as grindloop } from '../../program.ts';

const DEMO = 'scenarios/erythritol.yaml';
/** Keys of `run --json`, exactly. */
const KEYS = {
  product:
    'x10_um x50_um x90_um x95_um x97_um x99_um span d32_um d43_um surface_m2_per_kg edges_um undersize',
  loop: 'passes circulatingLoad loading_kg_per_kg holdup_kg residence_s feedAtChoke_kg_per_h massClosure',
  rotor: 'tipSpeed_m_per_s hitsPerPass idlePower_kW grindingPower_kW power_kW motorLoad',
  wheel:
    'cutSize_um stokesCutSize_um sharpness bypass rimSpeed_m_per_s radialVelocity_m_per_s power_kW pressureLoss_Pa',
  air: 'outletTemperature_C flowAtOutlet_m3_per_h productLoading_kg_per_m3',
  energy: 'specific_kWh_per_t net_kWh_per_t',
};

describe('run', () => {
  test('--json has exactly the keys of the interface, and numbers that belong together', async () => {
    const { code, out } = await grindloop('run', DEMO, '--json');
    expect(code).toBe(0);
    const outcome = JSON.parse(out);
    expect(Object.keys(outcome).sort()).toEqual(
      [
        ...Object.keys(KEYS),
        ...['settings', 'status', 'spec', 'verdict', 'calibration', 'assumptions', 'warnings'],
      ].sort(),
    );
    for (const [group, keys] of Object.entries(KEYS))
      expect(Object.keys(outcome[group])).toEqual(expect.arrayContaining(keys.split(' ')));
    for (const { group, key, argument } of QUANTITIES)
      if (group in outcome && argument === undefined) expect(outcome[group]).toHaveProperty([key]);
    expect(Object.keys(outcome.spec[0])).toEqual(
      'text value limit margin relativeMargin met probability'.split(' '),
    );
    expect(outcome.settings).toMatchObject({
      rotorSpeed_rpm: expect.closeTo(5730, 9),
      wheelSpeed_rpm: expect.closeTo(2000, 9),
      wheel: 'medium-leaning',
      feedRate_kg_per_h: expect.closeTo(300, 9),
      airFlow_m3_per_h: expect.closeTo(1500, 9),
    });
    expect(Object.keys(outcome.verdict)).toEqual(['meets', 'probability', 'chokes', 'fails', 'nearest']);
    expect(Object.keys(outcome.assumptions[0]).sort()).toEqual(['label', 'name', 'source', 'unit', 'value']);
    expect(outcome.status).toBe('steady');
    expect(outcome.calibration).toBeNull();
    expect(outcome.loop.massClosure).toBeLessThan(1e-12);
    expect(outcome.loop.circulatingLoad).toBeCloseTo(outcome.loop.passes - 1, 12);
    expect(outcome.product.undersize.at(-1)).toBeCloseTo(1, 14);
    expect(outcome.energy.specific_kWh_per_t).toBeCloseTo(outcome.rotor.power_kW / 0.3, 10);
    const limit = outcome.spec.find((line: { text: string }) => line.text.startsWith('motorLoad'));
    expect(limit.value).toBeCloseTo(100 * outcome.rotor.motorLoad, 10);
    const labels = new Set(outcome.assumptions.map(({ label }: { label: string }) => label));
    expect(labels.has('assumed') && labels.has('given')).toBe(true);
  });
  test('the summary leads with the answer and keeps its caution', async () => {
    const { out } = await grindloop('run', DEMO);
    const [title, , answer] = out.split('\n');
    expect(title).toBe('Erythritol for sugar-free icing');
    expect(answer).toMatch(/^Uncalibrated estimate, for planning a first trial: .*meets the whole spec/);
    expect(out).toContain('test your own dust');
    expect(out.split('\n').length).toBeLessThan(30);
  });
  test('--set changes a value, repeatably; a miss is said with how much', async () => {
    const { code, out } = await grindloop(
      ...['run', DEMO, '--set', 'settings.wheelSpeed=1100 rpm', '--set', 'settings.feedRate=250 kg/h'],
    );
    expect(code).toBe(0);
    expect(out).toMatch(
      /1100 rpm, rotor 5730 rpm, 250 kg\/h: .*it misses "95 % below 75 µm" by [\d.]+ percentage points/,
    );
  });
  test('a choke is no answer (2), with its reason and no product', async () => {
    const { code, out } = await grindloop('run', DEMO, '--json', '--set', 'settings.feedRate=900 kg/h');
    expect(code).toBe(2);
    const outcome = JSON.parse(out);
    expect(outcome).toMatchObject({ status: 'choked', reason: 'load' });
    expect(outcome.product).toBeUndefined();
    expect(outcome.loop.feedAtChoke_kg_per_h).toBeLessThan(900);
  });
  test('bad input is 1, on stderr, without a stack trace', async () => {
    const missing = await grindloop('run', 'no-such-file.yaml');
    expect(missing.code).toBe(1);
    expect(missing.err).toMatch(/no-such-file\.yaml/);
    const typo = await grindloop('rum', DEMO);
    expect(typo.code).toBe(1);
    const unit = await grindloop('run', DEMO, '--set', 'settings.feedRate=300');
    expect(unit.code).toBe(1);
    for (const { err, out } of [missing, typo, unit]) {
      expect(err).not.toMatch(/\n\s+at /);
      expect(out).toBe('');
    }
  });
});
