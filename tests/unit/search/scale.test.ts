import { describe, expect, test } from 'vitest';
import type { Case } from '../../../src/model/case.ts';
import { normalNumbers, uniformNumbers } from '../../../src/model/time/noise.ts';
import { plantFrom } from '../../../src/plant/presets.ts';
import { filesBeside } from '../../../src/scenario/load.ts';
import { toCase } from '../../../src/scenario/operating-point.ts';
import type { Solved } from '../../../src/scenario/outcome/quantity.ts';
import { solvePoint } from '../../../src/scenario/outcome/solved.ts';
import { parseScenario } from '../../../src/scenario/parse.ts';
import { bandsOf, UNKNOWNS } from '../../../src/search/scale/bands.ts';
import { carryOver, likeWheel } from '../../../src/search/scale/map-to-machine.ts';
import { differenceOf } from '../../../src/search/scale/product.ts';
import { scaleTo } from '../../../src/search/scale/scale.ts';
import { specLimits } from '../../../src/search/scale/spec-limits.ts';
import type { Machine } from '../../../src/search/scale/target.ts';
import { changed, PILOT } from '../../cases.ts';
import { close } from '../../close.ts';

function solved(c: Case): Solved {
  const point = solvePoint(c);
  if (point.status === 'choked') throw new Error('choked');
  return point;
}

/** The pilot with every length times k; its motor follows the area, its speeds the rim. */
function alike(k: number, change: { motor?: number; wheelMaxSpeed?: number } = {}): Machine {
  const { rotor, wheel, loop, wheelName } = PILOT;
  const { diameter, height, width, gap } = rotor.geometry;
  return {
    rotor: {
      ...rotor,
      geometry: {
        ...rotor.geometry,
        diameter: diameter * k,
        height: height * k,
        width: width * k,
        gap: gap * k,
      },
      motor: { power: change.motor ?? rotor.motor.power * k * k, baseSpeed: rotor.motor.baseSpeed / k },
      maxSpeed: rotor.maxSpeed / k,
    },
    wheel: {
      ...wheel,
      geometry: {
        ...wheel.geometry,
        diameter: wheel.geometry.diameter * k,
        height: wheel.geometry.height * k,
        thickness: wheel.geometry.thickness * k,
      },
      maxSpeed: change.wheelMaxSpeed ?? wheel.maxSpeed / k,
    },
    wheelName,
    loop,
  };
}

describe('scale to twice the diameter', () => {
  const from = solved(PILOT);
  const up = scaleTo(from, alike(2));
  test('the same x50, x95 and x97 within 1 %, and the whole curve', () => {
    for (const point of [up.same!, up.most!]) {
      for (const off of Object.values(point.difference.judged)) expect(Math.abs(off)).toBeLessThan(0.01);
      expect(point.difference.curve).toBeLessThan(0.01);
    }
    // the answer stands on its own: the settings solved afresh give the curve again
    const again = differenceOf(solved(up.same!.case).curve, from.curve);
    close(1 + again.worst, 1 + up.same!.difference.worst, 1e-12);
  });
  test('four times the air and the feed at equal solids per air, at about the same tip and a faster rim', () => {
    close(up.same!.case.air.flow, 4 * PILOT.air.flow, 1e-12);
    close(up.same!.case.settings.feedRate, 4 * PILOT.settings.feedRate, 1e-12);
    close(2 * up.same!.case.settings.rotorSpeed, PILOT.settings.rotorSpeed, 0.02);
    expect(2 * up.same!.case.settings.wheelSpeed).toBeGreaterThan(1.1 * PILOT.settings.wheelSpeed);
  });
  test('the limit is named, and holds: the motor is full at the highest rate and not before', () => {
    expect(up.stoppedBy.name).toBe('rotor motor');
    const { rotorPower, availablePower } = up.most!.solved.state.conditions;
    close(rotorPower / availablePower, 1, 3e-3);
    for (const { use } of up.most!.limits) expect(use).toBeLessThanOrEqual(1);
    expect(up.most!.case.settings.feedRate).toBeGreaterThan(up.same!.case.settings.feedRate);
  });
  test('there and back gives the start', () => {
    const back = scaleTo(up.same!.solved, alike(1)).same!.case;
    close(back.air.flow, PILOT.air.flow, 1e-12);
    close(back.settings.feedRate, PILOT.settings.feedRate, 1e-12);
    close(back.settings.rotorSpeed, PILOT.settings.rotorSpeed, 1e-3);
    close(back.settings.wheelSpeed, PILOT.settings.wheelSpeed, 1e-3);
  });
  test('a small motor stops it below equal loading; a slow wheel cannot make the product at all', () => {
    const weak = scaleTo(from, alike(2, { motor: 28e3 }));
    expect(weak.stoppedBy.name).toBe('rotor motor');
    expect(weak.most!.case.settings.feedRate).toBeLessThan(weak.same!.case.settings.feedRate);
    const slow = scaleTo(from, alike(2, { wheelMaxSpeed: 600 / 60 }));
    expect(slow.most).toBeUndefined();
    expect(slow.stoppedBy.name).toBe('highest wheel speed');
  });
  test('more feed runs into choking where no motor stops it', () => {
    const strong = scaleTo(from, alike(2, { motor: 1e6 }));
    expect(['choking', 'the product (it can no longer be met)', 'highest wheel speed']).toContain(
      strong.stoppedBy.name,
    );
    expect(strong.most!.case.settings.feedRate).toBeGreaterThan(up.most!.case.settings.feedRate);
  });
  test('what stands around the first machine stays with it', () => {
    const sited = { ...PILOT, plant: plantFrom({}) };
    expect(Object.hasOwn(scaleTo(solved(sited), alike(2)).same!.case, 'plant')).toBe(false);
  });
});

describe('bands', () => {
  test('squares added agree with drawing all unknowns at once, for the product left as it is set', () => {
    const from = solved(PILOT);
    const bands = bandsOf(PILOT, from.curve);
    const normal = normalNumbers(uniformNumbers(4));
    const logs: number[] = [];
    for (let i = 0; i < 400; i++) {
      const there = UNKNOWNS.reduce((c, { spread, apply }) => apply(c, Math.exp(spread * normal())), PILOT);
      const point = solvePoint(there, { choke: false });
      if (point.status === 'steady')
        logs.push(Math.log(1 + differenceOf(point.curve, from.curve).judged.x95));
    }
    const mean = logs.reduce((sum, x) => sum + x, 0) / logs.length;
    const deviation = Math.sqrt(logs.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (logs.length - 1));
    close(bands.x95, 1.96 * deviation, 0.15);
  });
});

describe('to a machine of the catalogue', () => {
  const machine = (name: string) =>
    parseScenario(
      `title: t\nmaterial: { from: organic-crystal }\nfeed: { law: log-normal, x50: 500 um, spread: 0.35 }\nmachine: { from: ${name} }\nair: { flow: 1000 m^3/h }\nsettings: { feedRate: 1 kg/h }`,
      filesBeside('scenarios/x.yaml'),
    );
  const scenario = parseScenario(
    `title: t
material: { from: erythritol }
feed: { law: log-normal, x50: 500 um, spread: 0.35 }
machine: { from: pilot-300, wheels: { medium-leaning: { coefficients: { cutFactor: 1.2 } } } }
settings: { rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: 1500 rpm, feedRate: 200 kg/h }
spec: [ "passing(75 um) >= 90 %", "outletTemperature <= 40 degC", "motorLoad <= 85 %" ]`,
    filesBeside('scenarios/x.yaml'),
  );
  test('the wheel of the same name, with what was found on the first machine where it has no value of its own', () => {
    const c = toCase(scenario);
    const other = machine('production-600');
    expect(likeWheel(c, other)).toBe('medium-leaning');
    const { machine: there, taken } = carryOver(c, other, 'medium-leaning');
    expect(there.wheel.coefficients.cutFactor).toBe(1.2);
    expect(taken).toEqual(['machine.wheels.medium-leaning.coefficients.cutFactor']);
    expect(there.wheel.geometry.diameter).toBe(0.4);
  });
  test('the same product, within what the spec asks of heat and motor', () => {
    const from = solved(toCase(scenario));
    const { machine: there } = carryOver(from.case, machine('production-1000'), 'medium-leaning');
    const { most, stoppedBy } = scaleTo(from, there, { limits: specLimits(scenario.spec, from) });
    expect(most!.difference.worst).toBeLessThan(0.02);
    expect(['outletTemperature <= 40 degC', 'motorLoad <= 85 %']).toContain(stoppedBy.name);
    expect(most!.solved.state.conditions.temperature).toBeLessThanOrEqual(313.15 + 1e-6);
  });
  test('a finer product needs the wheel faster, on both machines alike', () => {
    const there = (wheelSpeed: number) => {
      const from = solved(changed(PILOT, { settings: { wheelSpeed } }));
      return scaleTo(from, alike(2)).same!.case.settings.wheelSpeed;
    };
    expect(there(40)).toBeGreaterThan(1.3 * there(25));
  });
});
