import type { LawChoice, LawHeader, Parameter } from '../model/parameters.ts';
import type { Sourced } from '../model/sources.ts';
import { CYCLONES } from './cyclone/index.ts';
import { FEEDERS } from './feeders.ts';
import { PLANT_BLOCKS, type Plant } from './plant.ts';

/** Values of parameters: as given, else their presets; without either they stay absent. */
export function filled(
  parameters: readonly Parameter[],
  given: Readonly<Record<string, unknown>> = {},
): Record<string, number> {
  const values: Record<string, number> = {};
  for (const { name, preset } of parameters) {
    const value = (given[name] as number | undefined) ?? preset?.value;
    if (value !== undefined) values[name] = value;
  }
  return values;
}

/** A law with its parameters filled. */
export function filledLaw(law: LawHeader, given: Readonly<Record<string, unknown>> = {}): LawChoice {
  const points = given.points === undefined ? {} : { points: given.points as LawChoice['points'] };
  return { law: law.name, ...filled(law.parameters, given), ...points };
}

/** Laws taken where none is stated. */
export const OTHERWISE = { feeder: 'gravimetric', cyclone: 'barth-muschelknautz' } as const;

/** What of a plant is stated; every block and value may be left out. */
export type StatedPlant = Readonly<Record<string, Readonly<Record<string, unknown>> | undefined>>;

/**
 * The plant from what is stated, the rest from presets: a loss-in-weight feeder, a Barth–Muschelknautz cyclone, no fan
 * curve.
 *
 * @param stated blocks as under `plant:` in a scenario, SI
 */
export function plantFrom(stated: StatedPlant = {}): Plant {
  const block = (name: string) => filled(PLANT_BLOCKS[name]!, stated[name]);
  const chosen = (name: string, laws: Readonly<Record<string, LawHeader>>, otherwise: string) => {
    const law = laws[(stated[name]?.law as string | undefined) ?? otherwise]!;
    return filledLaw(law, stated[name]);
  };
  return {
    feeder: chosen('feeder', FEEDERS, OTHERWISE.feeder),
    cyclone: chosen('cyclone', CYCLONES, OTHERWISE.cyclone),
    ...(stated.secondFeeder ? { secondFeeder: chosen('secondFeeder', FEEDERS, OTHERWISE.feeder) } : {}),
    ...(stated.fan ? { fan: stated.fan as unknown as LawChoice } : {}),
    feedLine: block('feedLine'),
    productLine: block('productLine'),
    surroundings: block('surroundings'),
    airlock: block('airlock'),
    filter: block('filter'),
    product: block('product'),
    dust: block('dust'),
    shafts: block('shafts'),
  } as unknown as Plant;
}

/** One preset with its evidence; the value is in `unit`, SI. */
export interface PresetInUse extends Sourced {
  readonly name: string;
}

/** Every preset of a plant of which nothing is stated, with label and source. */
export function presetEvidence(): PresetInUse[] {
  const of = (block: string, parameters: readonly Parameter[]) =>
    parameters.flatMap(({ name, unit, preset }) =>
      preset ? [{ name: `plant.${block}.${name}`, unit, ...preset }] : [],
    );
  return [
    ...of('feeder', FEEDERS[OTHERWISE.feeder]!.parameters),
    ...of('cyclone', CYCLONES[OTHERWISE.cyclone]!.parameters),
    ...Object.entries(PLANT_BLOCKS).flatMap(([block, parameters]) => of(block, parameters)),
  ];
}
