import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { tipSpeed } from '../../../src/model/rotor.ts';
import { toCase } from '../../../src/scenario/operating-point.ts';
import { solvePoint } from '../../../src/scenario/outcome/solved.ts';
import { read } from './reading.ts';

const names = (kind: string) =>
  readdirSync(`scenarios/catalogue/${kind}`).map((file) => file.replace('.yaml', ''));
const materials = names('materials');
const machines = names('machines');

describe('materials of the catalogue', () => {
  test('are ten, of several classes', () => {
    expect(materials.length).toBeGreaterThanOrEqual(10);
    expect(materials).toEqual(
      expect.arrayContaining(['ductile-polymer', 'organic-crystal', 'brittle-mineral', 'pea']),
    );
  });
  test.each(materials)(
    '%s: every value has a label and a source, none claims to have been measured',
    (name) => {
      const { provenance } = read({ material: name });
      const rows = Object.entries(provenance).filter(([path]) => path.startsWith('material.'));
      expect(rows.length).toBeGreaterThanOrEqual(7);
      for (const [path, { label, source }] of rows) {
        expect(['recalled', 'assumed', 'derived'], path).toContain(label);
        expect(source.length, path).toBeGreaterThan(5);
      }
    },
  );
  // Orders of magnitude by class: the model, coefficients of the catalogue (recalled).
  test.each([
    ['ductile-polymer', [0.02, 0.2], [0.3, 5]],
    ['organic-crystal', [0.1, 1], [0.02, 0.3]],
    ['erythritol', [0.1, 1], [0.02, 0.3]],
    ['sucrose', [0.1, 1], [0.02, 0.3]],
    ['brittle-mineral', [0.5, 2], [0.01, 0.2]],
    ['calcite', [0.5, 2], [0.01, 0.2]],
    ['quartz-feldspar', [0.5, 2], [0.01, 0.2]],
  ] as const)('%s lies within its class', (name, [least, most], [low, high]) => {
    const { friability, threshold } = read({ material: name }).components[0]!.material.selection;
    expect(friability).toBeGreaterThanOrEqual(least);
    expect(friability).toBeLessThanOrEqual(most);
    expect(threshold).toBeGreaterThanOrEqual(low);
    expect(threshold).toBeLessThanOrEqual(high);
  });
});

describe('machines of the catalogue', () => {
  test.each(machines)('%s: every value has a label and a source', (name) => {
    const text = readFileSync(`scenarios/catalogue/machines/${name}.yaml`, 'utf8');
    expect(text).toMatch(/invented machine/);
    const wheel = 'medium-radial';
    const settings = `{ wheel: ${wheel}, feedRate: 100 kg/h }`;
    const { provenance } = read({ machine: name, settings });
    for (const [path, { label, source }] of Object.entries(provenance)) {
      if (!/^(machine|air)\./.test(path)) continue;
      expect(['recalled', 'assumed', 'derived'], path).toContain(label);
      expect(source.length, path).toBeGreaterThan(5);
    }
  });
  test.each(machines)(
    '%s is plausible: 90 to 140 m³/h of air per kW (practice), tip and rim speeds of such mills',
    (name) => {
      const { machine, air } = read({
        machine: name,
        settings: '{ wheel: medium-radial, feedRate: 100 kg/h }',
      });
      const perKilowatt = (air.flow * 3600) / (machine.rotor.motor.power / 1000);
      expect(perKilowatt).toBeGreaterThanOrEqual(90);
      expect(perKilowatt).toBeLessThanOrEqual(140);
      const tip = tipSpeed(machine.rotor.geometry.diameter, machine.rotor.maxSpeed);
      expect(tip).toBeGreaterThan(90);
      expect(tip).toBeLessThan(130);
      for (const wheel of Object.values(machine.wheels)) {
        expect(tipSpeed(wheel.geometry.diameter, wheel.maxSpeed)).toBeLessThan(70);
      }
    },
  );
  test.each(machines)('%s runs at the speeds proposed for it', (name) => {
    const { ranges } = read({
      machine: name,
      settings: '{ wheel: medium-radial, feedRate: 100 kg/h }',
    }).machine;
    const feedRate = 0.1 * ranges!.feedRate!.to;
    const scenario = read({
      machine: name,
      settings: `{ wheel: medium-leaning, feedRate: ${feedRate} kg/s }`,
    });
    const point = solvePoint(toCase(scenario));
    expect(point.status).toBe('steady');
  });
});
