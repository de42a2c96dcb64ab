import type { Parameter } from '../../model/parameters.ts';
import { CYCLONES } from '../../plant/cyclone/index.ts';
import { FAN_CURVES } from '../../plant/fan.ts';
import { FEEDERS } from '../../plant/feeders.ts';
import { PLANT_BLOCKS } from '../../plant/plant.ts';
import { OTHERWISE } from '../../plant/presets.ts';
import { TRIPS } from '../../plant/trips.ts';
import type { BlockShape } from './block-shape.ts';

/** `plant:` — what stands around the mill; its keys follow from the units' own parameters. */
export const PLANT: BlockShape = {
  summary: 'feeder, lines, cyclone, filter, fan, product limits and dust data around the mill',
  laws: {
    feeder: { registry: FEEDERS, otherwise: OTHERWISE.feeder },
    secondFeeder: { registry: FEEDERS },
    cyclone: { registry: CYCLONES, otherwise: OTHERWISE.cyclone },
    fan: { registry: FAN_CURVES },
  },
  blocks: Object.fromEntries(
    Object.entries(PLANT_BLOCKS).map(([name, parameters]) => [name, { summary: name, parameters }]),
  ),
};

const seconds = (name: string, symbol: string, meaning: string, value: number, shownIn = 's'): Parameter => ({
  name,
  symbol,
  unit: 's',
  shownIn,
  meaning,
  minimum: 0,
  maximum: 1e6,
  preset: { value, label: 'assumed', source: 'unless the file gives another' },
});

const AT: Parameter = {
  name: 'at',
  symbol: 't',
  unit: 's',
  shownIn: 'min',
  meaning: 'time of the change after start',
  minimum: 0,
  maximum: 1e6,
};
const RATE: Parameter = {
  name: 'feedRate',
  symbol: 'F',
  unit: 'kg/s',
  shownIn: 'kg/h',
  meaning: 'feed rate set from then on; 0 kg/h stops the feed',
  minimum: 0,
  optional: true,
};

/** Numbers of `time:`. */
export const TIME_NUMBERS: readonly Parameter[] = [
  seconds('duration', 't_end', 'how long is looked at', 900, 'min'),
  { ...seconds('step', 'Δt', 'time step', 0.25), exclusiveMinimum: 0, maximum: 10 },
  seconds('sampleLag', 'τ_s', 'lag of a sample: ducts, cyclone, wall coating', 60),
  {
    name: 'casingExchange',
    symbol: 'U_i',
    unit: 'W/K',
    shownIn: 'W/K',
    meaning:
      'heat from air and powder to the casing per kelvin; left out, 30 W/K at 300 mm and with D² (assumed)',
    exclusiveMinimum: 0,
    usual: { low: 1, high: 2000 },
    optional: true,
  },
  {
    name: 'casingHeat',
    symbol: 'C_c',
    unit: 'J/K',
    shownIn: 'kJ/K',
    meaning: 'heat the casing takes up per kelvin; left out, 200 kJ/K at 300 mm and with D³ (assumed)',
    exclusiveMinimum: 0,
    usual: { low: 5e3, high: 5e7 },
    optional: true,
  },
  {
    name: 'seed',
    symbol: 'seed',
    unit: '1',
    shownIn: '1',
    meaning: 'start of the feeder’s random numbers',
    minimum: 0,
    maximum: 2 ** 32 - 1,
    integer: true,
    preset: { value: 1, label: 'assumed', source: 'any' },
  },
];

/** `time:` — start-up, steps and noise against time. */
export const TIME: BlockShape = {
  summary: 'what `time` runs: duration, lags and changes of the feed',
  parameters: TIME_NUMBERS,
  lists: {
    events: {
      summary: '{ at: 10 min, feedRate: 350 kg/h } or { at: 10 min, trip: wheel }',
      parameters: [AT, RATE],
      choices: { trip: TRIPS },
    },
  },
};
