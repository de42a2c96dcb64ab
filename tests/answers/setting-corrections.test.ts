import { describe, expect, test } from 'vitest';
import { turnsView } from '../../src/answers/setting-corrections.ts';
import { toCase, withValue } from '../../src/scenario/operating-point.ts';
import { quantityNamed } from '../../src/scenario/outcome/quantities.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { demo, requiring } from './cases.ts';

const PATHS = {
  'wheel speed': 'wheelSpeed',
  'rotor speed': 'rotorSpeed',
  'feed rate': 'feedRate',
  'air flow': 'air.flow',
} as const;
const SI = { rpm: 60, 'kg/h': 3600, 'm³/h': 3600 } as const;

function quantityAt(scenario: Scenario, name: string): number {
  const point = solvePoint(toCase(scenario), { choke: false });
  if (point.status === 'choked') throw new Error('the demo runs');
  return quantityNamed(name)!.of(point);
}

describe('how far to turn a setting', () => {
  test.each([
    ['x95 is 5 µm too coarse', 'x95', -5e-6],
    ['x95 is 5 µm too fine', 'x95', 5e-6],
    ['x10 is 1 µm too fine', 'x10', 1e-6],
    ['the outlet is 5 °C too warm', 'outletTemperature', -5],
    ['the rotor draws 1 kW too much', 'rotorPower', -1000],
  ])('%s: each setting turned as said changes it by just that', async (words, name, change) => {
    const scenario = await demo();
    const before = quantityAt(scenario, name);
    const { turns } = turnsView(scenario).wishes.find((wish) => wish.words === words)!;
    let checked = 0;
    for (const { setting, turn } of turns) {
      const path = PATHS[setting as keyof typeof PATHS];
      const found = /^([\d.]+) → ([\d.]+) (rpm|kg\/h|m³\/h) \(([+−])[\d.]+ %\)/.exec(turn);
      if (!path || !found) continue;
      const to = Number(found[2]);
      const after = quantityAt(
        withValue(
          scenario,
          path,
          to / SI[found[3] as keyof typeof SI],
          path.endsWith('Speed') ? 'shaft' : undefined,
        ),
        name,
      );
      // the setting is said with four digits
      expect((after - before) / change, `${setting}: ${turn}`).toBeCloseTo(1, 1);
      expect(Math.abs((after - before) / change - 1), `${setting}: ${turn}`).toBeLessThan(0.04);
      expect(found[4] === '+').toBe(to > Number(found[1]));
      checked++;
    }
    expect(checked).toBeGreaterThan(0);
  });

  test('what a point misses comes first, by just as much as it misses', async () => {
    const scenario = requiring(await demo(), 'x95 <= 65 um', 'motorLoad <= 90 %');
    const missed = quantityAt(scenario, 'x95') - 65e-6;
    const [first] = turnsView(scenario).wishes;
    expect(first!.words).toBe(`"x95 at most 65 µm" is missed by ${Number((missed * 1e6).toPrecision(2))} µm`);
    const { turn } = first!.turns.find(({ setting }) => setting === 'wheel speed')!;
    const to = Number(/→ ([\d.]+) rpm/.exec(turn)![1]);
    expect(quantityAt(withValue(scenario, 'wheelSpeed', to / 60, 'shaft'), 'x95') / 65e-6).toBeCloseTo(1, 2);
  });
});
