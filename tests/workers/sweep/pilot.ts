import type { Factor, Scenario, SweepPlan } from '../../../src/scenario/scenario.ts';
import type { Study } from '../../../src/sweep/study/study.ts';
import { PILOT, WHEELS } from '../../cases.ts';

const rpm = 1 / 60;
const kgPerHour = 1 / 3600;

/** The pilot mill as a checked scenario. */
export const PILOT_SCENARIO: Scenario = {
  title: 'pilot',
  job: {},
  components: PILOT.components,
  machine: { name: 'pilot', rotor: PILOT.rotor, wheels: WHEELS, drives: {}, ...PILOT.loop },
  air: PILOT.air,
  settings: {
    rotorSpeed: { as: 'shaft', value: PILOT.settings.rotorSpeed },
    wheel: 'medium-leaning',
    wheelSpeed: { as: 'shaft', value: PILOT.settings.wheelSpeed },
    feedRate: PILOT.settings.feedRate,
  },
  proposed: [],
  spec: [
    {
      text: 'passing(75 um) >= 95 %',
      relation: '>=',
      left: { kind: 'quantity', name: 'passing', argument: 75e-6 },
      right: { kind: 'number', value: 0.95 },
      shownIn: '%',
    },
    {
      text: 'motorLoad <= 90 %',
      relation: '<=',
      left: { kind: 'quantity', name: 'motorLoad' },
      right: { kind: 'number', value: 0.9 },
      shownIn: '%',
    },
  ],
  uncertain: {},
  blocks: {},
  warnings: [],
  provenance: {},
  text: 'title: pilot\n',
};

const speed = { kind: 'number', scale: 'linear', integer: false, as: 'shaft', shownIn: 'rpm' } as const;

export const ROTOR_SPEED: Factor = {
  ...speed,
  path: 'rotorSpeed',
  from: 4000 * rpm,
  to: 7000 * rpm,
  steps: 4,
};
export const WHEEL_SPEED: Factor = {
  ...speed,
  path: 'wheelSpeed',
  from: 1000 * rpm,
  to: 5000 * rpm,
  steps: 5,
};
export const FEED_RATE: Factor = {
  kind: 'number',
  path: 'feedRate',
  from: 100 * kgPerHour,
  to: 500 * kgPerHour,
  steps: 3,
  scale: 'linear',
  integer: false,
  shownIn: 'kg/h',
};
export const WHEEL: Factor = { kind: 'levels', path: 'wheel', levels: Object.keys(WHEELS), shownIn: '1' };
export const CHOSEN_HEIGHT: Factor = {
  kind: 'number',
  path: 'wheel.geometry.height',
  from: 0.04,
  to: 0.12,
  steps: 3,
  scale: 'linear',
  integer: false,
  shownIn: 'mm',
};
export const LONG_HEIGHT: Factor = { ...CHOSEN_HEIGHT, path: 'machine.wheels.long-leaning.geometry.height' };

/** The five factors of the demonstration. */
export const FACTORS: readonly Factor[] = [ROTOR_SPEED, WHEEL_SPEED, WHEEL, FEED_RATE, CHOSEN_HEIGHT];

export function pilotStudy(
  plan: SweepPlan,
  quantities: readonly string[] = ['x50', 'x95', 'motorLoad'],
): Study {
  return { scenario: PILOT_SCENARIO, plan, quantities, curves: false };
}

/** Twenty-five quantities, as a generous table holds. */
export const TWENTY_FIVE = [
  ...['x10', 'x50', 'x90', 'x95', 'x97', 'x99', 'span', 'd32', 'd43', 'surface'],
  ...[
    'passes',
    'circulatingLoad',
    'loading',
    'holdup',
    'residence',
    'hitsPerPass',
    'rotorPower',
    'motorLoad',
  ],
  ...[
    'cutSize',
    'sharpness',
    'wheelPower',
    'pressureLoss',
    'outletTemperature',
    'productLoading',
    'specificEnergy',
  ],
];
