import { describe, expect, test } from 'vitest';
import { solve } from '../../../src/model/loop/solve.ts';
import { march } from '../../../src/plant/air-path/march.ts';
import { FAN_CURVES, fanPressure, fanSpeed } from '../../../src/plant/fan.ts';
import { inletFlow, solveWithFan } from '../../../src/plant/fan-operating-point.ts';
import { filledLaw, plantFrom } from '../../../src/plant/presets.ts';
import { densityOf, volumeFlow } from '../../../src/plant/stream.ts';
import { changed, PILOT, rpm } from '../../cases.ts';
import { close } from '../../close.ts';

const CURVE = { law: 'parabola', shutOff: 11e3, flow: 0.5, pressure: 8e3 };
const hour = 1 / 3600;

function withFan(speed: number, change: Parameters<typeof changed>[1] = {}, plantChange = {}) {
  const c = changed(PILOT, change);
  const fan = filledLaw(FAN_CURVES.parabola!, { ...CURVE, speed });
  const plant = plantFrom({ fan, ...plantChange });
  return { c, plant, ...solveWithFan(c, plant) };
}

/** Fan's rise less the plant's need at an air flow held [Pa]. */
function surplus({ c, plant }: Pick<ReturnType<typeof withFan>, 'c' | 'plant'>, flow: number): number {
  const there = { ...c, air: { ...c.air, flow } };
  const state = solve(there, { choke: false });
  if (state.status === 'choked') return Number.NaN;
  const { fanInlet, riseNeeded } = march(there, state, plant, inletFlow(c));
  const speed = plant.fan!.speed as number;
  return fanPressure(plant.fan!, speed, volumeFlow(fanInlet), densityOf(fanInlet)) - riseNeeded;
}

describe('fan laws (eq. P18)', () => {
  const fan = filledLaw(FAN_CURVES.parabola!, CURVE);
  test('twice the speed: twice the flow, four times the pressure, eight times the power (derived)', () => {
    close(fanPressure(fan, 2, 0.8, 1.2), 4 * fanPressure(fan, 1, 0.4, 1.2), 1e-14);
    close(0.8 * fanPressure(fan, 2, 0.8, 1.2), 8 * 0.4 * fanPressure(fan, 1, 0.4, 1.2), 1e-14);
    close(fanPressure(fan, 1, 0.4, 0.9), 0.75 * fanPressure(fan, 1, 0.4, 1.2), 1e-14);
  });
  test('the speed found gives the pressure asked at the flow asked', () => {
    for (const [flow, rise] of [
      [0.5, 8000],
      [0.3, 2000],
      [0.9, 12000],
    ] as const) {
      close(fanPressure(fan, fanSpeed(fan, flow, rise, 1.1), flow, 1.1), rise, 1e-12);
    }
    close(fanSpeed(fan, 0.5, 8000, 1.2), 1, 1e-12);
    expect(fanSpeed(fan, 0.5, 1e9, 1.2)).toBeNaN();
  });
  test('a table passes its points and ends at its free flow', () => {
    const points = [
      [0, 9000],
      [0.4, 8000],
      [0.6, 4000],
    ] as const;
    const law = FAN_CURVES.table!;
    const choice = filledLaw(law, { points });
    for (const [flow, pressure] of points) close(law.pressure(choice, flow), pressure, 1e-14);
    close(law.freeFlow(choice), 0.8, 1e-14);
    expect(Math.abs(law.pressure(choice, 0.8))).toBeLessThan(1e-9);
  });
});

describe('fan and mill together (eq. P19)', () => {
  test('at the answer the fan gives what plant and mill need, and the loop is at rest', () => {
    for (const [wheelSpeed, feedRate] of [
      [1000, 60],
      [1500, 300],
      [3000, 200],
    ] as const) {
      const settings = { wheelSpeed: wheelSpeed * rpm, feedRate: feedRate * hour };
      const found = withFan(1, { settings });
      if (found.state.status !== 'steady') throw new Error('choked');
      const again = solve(found.case);
      if (again.status !== 'steady') throw new Error('choked');
      expect(Math.abs(surplus(found, found.case.air.flow))).toBeLessThan(1e-9 * 8000);
      expect(found.state.circulating).toBe(again.circulating);
    }
  });
  test('it is the greatest flow at which they agree: a dense scan from the free flow down', () => {
    for (const change of [{}, { coefficients: { sharpnessLoading: 0.3 } }]) {
      const found = withFan(0.9, change);
      const top = (FAN_CURVES.parabola!.freeFlow(found.plant.fan!) * 0.9) / 1.02;
      let above = top;
      while (surplus(found, above) < 0) above *= 0.997;
      expect(found.case.air.flow).toBeGreaterThanOrEqual(above * (1 - 1e-9));
      expect(found.case.air.flow).toBeLessThan(above / 0.997);
    }
  });
  test('air falls as wheel speed rises, as feed rises, and as the fan slows', () => {
    const flows = (all: readonly ReturnType<typeof withFan>[]) => all.map((each) => each.case.air.flow);
    const falls = (values: readonly number[]) => {
      for (let i = 1; i < values.length; i++) expect(values[i]).toBeLessThan(values[i - 1]! * 0.999);
    };
    falls(
      flows(
        [500, 1500, 2500, 3500].map((n) =>
          withFan(1, { settings: { wheelSpeed: n * rpm, feedRate: 150 * hour } }),
        ),
      ),
    );
    falls(flows([50, 200, 350, 500].map((f) => withFan(1, { settings: { feedRate: f * hour } }))));
    falls(flows([1.1, 1, 0.9, 0.8].map((s) => withFan(s))));
  });
  test('feed at which it chokes: steady just below, choked just above, and less than with held air', () => {
    const settings = { wheelSpeed: 2500 * rpm, feedRate: 200 * hour };
    const found = withFan(1, { settings });
    const limit = found.state.feedAtChoke;
    const at = (feedRate: number) => withFan(1, { settings: { ...settings, feedRate } }).state.status;
    expect(at(limit * 0.98)).toBe('steady');
    expect(at(limit * 1.02)).toBe('choked');
    expect(limit).toBeLessThan(solve(found.case).feedAtChoke);
  });
});
