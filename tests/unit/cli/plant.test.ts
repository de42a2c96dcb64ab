import { describe, expect, test } from 'vitest';
import { grindloop } from '../../program.ts';

const DEMO = 'scenarios/erythritol.yaml';
const CAUTION = /Screening only.*test your own dust.*licensed practice decide.*unknown hazard/s;

describe('plant', () => {
  test('leads with the answer, shows the air on its way, and keeps its caution', async () => {
    const { code, out } = await grindloop('plant', DEMO);
    expect(code).toBe(0);
    const lines = out.split('\n');
    expect(lines[2]).toMatch(
      /the air is held at 1500 m³\/h; the fan must give \d+ Pa .* The cyclone keeps 9\d/,
    );
    expect(out).toMatch(/ {2}filter outlet/);
    expect(out).toMatch(/\d+ hazards, \d+ unknown hazards/);
    expect(out).toMatch(CAUTION);
    expect(lines.length).toBeLessThan(70);
  });
  test('air that would have to be sucked below vacuum gets no figures, in words or in JSON', async () => {
    const flow = ['--set', 'air.flow=109600 m^3/h'];
    const { code, out } = await grindloop('plant', DEMO, ...flow);
    expect(code).toBe(2);
    expect(out).toMatch(/no answer: at "cyclone outlet"|no answer: at "mill outlet"/);
    expect(out).toMatch(CAUTION);
    expect(out).not.toMatch(/NaN|hazards,/);
    const { code: same, out: json } = await grindloop('plant', DEMO, ...flow, '--json');
    expect(same).toBe(2);
    expect(JSON.parse(json).status).toBe('no air passes');
  });
  test('--json carries units in its keys, a balance that closes, and presets with sources', async () => {
    const { code, out } = await grindloop('plant', DEMO, '--json');
    expect(code).toBe(0);
    const plant = JSON.parse(out);
    for (const residual of Object.values(plant.closure))
      expect(Math.abs(residual as number)).toBeLessThan(1e-12);
    expect(plant.quantities.fanPower_kW).toBeGreaterThan(1);
    expect(plant.stations.map(({ name }: { name: string }) => name)[0]).toBe('outside');
    for (const { source, label } of plant.presets) expect(`${label}${source}`.length).toBeGreaterThan(10);
    for (const { caution } of [...plant.safety.lines, ...plant.safety.checklist])
      expect(caution.length).toBeGreaterThan(20);
  });
  test('--safety shows every line with its caution; a choke is no answer', async () => {
    const safety = await grindloop('plant', DEMO, '--safety');
    expect(safety.out).toMatch(CAUTION);
    expect(safety.out).toMatch(/run-down: rotor\n +stands as: unknown hazard\n/);
    expect(safety.out).toMatch(/interlocks/);
    const choked = await grindloop('plant', DEMO, '--set', 'settings.feedRate=3000 kg/h');
    expect(choked.code).toBe(2);
    expect(choked.out).toMatch(/chokes/);
  });
});
