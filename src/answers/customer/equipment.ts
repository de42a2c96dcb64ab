import { plantFrom, type StatedPlant } from '../../plant/presets.ts';
import { toCase } from '../../scenario/operating-point.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber as n, formatQuantity as q } from '../../scenario/units/display.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import type { AnswerTable } from '../document.ts';
import { listed } from '../join-words.ts';
import { unitsTable } from '../plant/plant-tables.ts';
import { label, words } from '../text.ts';

/** Longest name shown whole. */
const LONGEST = 120;
/** Blocks of `plant` by the units of its table. */
const BLOCK_OF: Readonly<Record<string, string>> = {
  feeder: 'feeder',
  'feed line': 'feedLine',
  'product line': 'productLine',
  cyclone: 'cyclone',
  airlock: 'airlock',
  filter: 'filter',
  fan: 'fan',
};

/** Mill, wheels in use, air, and what the file states of the plant around the mill. Sizes only: nothing of the model. */
export function equipmentTable(scenario: Scenario, trials: readonly LoggedTrial[]): AnswerTable {
  const { machine, air, settings } = scenario;
  const { geometry, motor } = machine.rotor;
  const wheels = [...new Set([settings.wheel, ...trials.map((trial) => trial.scenario.settings.wheel)])];
  const rows = [
    ['mill', words(machine.name || 'not named in the file', LONGEST)],
    [
      'rotor',
      `${geometry.count} elements (${geometry.element}) on ${q(geometry.diameter, 'mm', 4)}, motor ${q(motor.power, 'kW', 3)}, at most ${q(machine.rotor.maxSpeed, 'rpm', 4)}`,
    ],
    [
      wheels.length > 1 ? 'classifier wheels' : 'classifier wheel',
      listed(wheels.map((name) => `${label(name)} (at most ${q(machine.wheels[name]!.maxSpeed, 'rpm', 4)})`)),
    ],
    ['air', `${q(air.flow, 'm^3/h', 4)} at ${q(air.temperature, 'degC', 3)}`],
    ...plantRows(scenario),
  ];
  return { columns: [{ name: 'equipment' }, { name: 'as installed' }], rows };
}

/** Units the file states, in the order the air meets them. */
function plantRows(scenario: Scenario): string[][] {
  const stated = (scenario.blocks.plant ?? {}) as StatedPlant;
  if (Object.keys(stated).length === 0) return [];
  const point = solvePoint({ ...toCase(scenario), plant: plantFrom(stated) });
  if (point.status === 'choked' || !point.plant) return [];
  // the name of a law says how it is computed, not what stands there
  const { law } = point.plant.plant.cyclone;
  return unitsTable(point.plant).rows.flatMap((row) => {
    const [unit, size] = row as readonly string[];
    return isStated(scenario, BLOCK_OF[unit!])
      ? [[unit!, size!.replace(` ${law}`, '') || 'as stated in the file']]
      : [];
  });
}

/** Whether the file gives any number of a unit; what is only a preset stands in no mill. */
function isStated({ provenance }: Scenario, block: string | undefined): boolean {
  return Object.entries(provenance).some(
    ([path, { label: evidence }]) => path.startsWith(`plant.${block}.`) && evidence === 'given',
  );
}

/** Material and feed as the file has them; no number of how it breaks. */
export function materialTable(
  { components }: Scenario,
  feed: readonly [x10: number, x50: number, x90: number] | undefined,
): AnswerTable {
  const rows = components.map(({ share, material }) => {
    const part = components.length > 1 ? `, ${n(100 * share, 3)} % of the feed` : '';
    return [words(material.name, LONGEST), `density ${q(material.density, 'kg/m^3', 4)}${part}`];
  });
  const sizes = feed
    ? [['feed', `x10 ${q(feed[0], 'um', 3)}, x50 ${q(feed[1], 'um', 3)}, x90 ${q(feed[2], 'um', 3)}`]]
    : [];
  return { columns: [{ name: 'material' }, { name: 'as supplied' }], rows: [...rows, ...sizes] };
}
