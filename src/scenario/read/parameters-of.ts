import type { Component, Wheel } from '../../model/case.ts';
import { AIR } from '../../model/parameters/air-parameters.ts';
import { EVAPORATION, LOOP } from '../../model/parameters/loop.ts';
import { MATERIAL, SHARE } from '../../model/parameters/material-parameters.ts';
import {
  MOTOR,
  ROTOR_COEFFICIENTS,
  ROTOR_GEOMETRY,
  ROTOR_MAX_SPEED,
} from '../../model/parameters/rotor-parameters.ts';
import {
  WHEEL_COEFFICIENTS,
  WHEEL_GEOMETRY,
  WHEEL_MAX_SPEED,
} from '../../model/parameters/wheel-parameters.ts';
import type { LawChoice, Parameter } from '../../model/parameters.ts';
import type { BlockValues, Scenario } from '../scenario.ts';
import type { BlockShape } from './block-shape.ts';
import { BLOCKS } from './blocks.ts';
import { FEED_RATE } from './feed-rate.ts';
import { EFFICIENCY_LAWS, FEED_LAWS, FRAGMENT_LAWS, SELECTION_LAWS } from './laws.ts';
import type { Laws } from './read-law.ts';

type Found = readonly [path: string, parameter: Parameter];

/**
 * Parameter of every number that a checked scenario can hold, by its path in the file: what a value set at that path must
 * obey.
 *
 * @param scenario whose laws and names of wheels and rotors decide what there is
 * @throws RangeError where it names a law that does not exist, which no checked scenario does
 */
export function parametersOf(scenario: Scenario): Map<string, Parameter> {
  const { components, machine, blocks } = scenario;
  const only = components.length === 1;
  return new Map([
    ...components.flatMap((each, i) => ofComponent(only ? '' : `components.${i}.`, each)),
    ...named('machine', LOOP),
    ['machine.evaporation', EVAPORATION] as const,
    ...ofRotor('machine.rotor'),
    ...Object.entries(machine.rotors ?? {}).flatMap(([name]) => ofRotor(`machine.rotors.${name}`)),
    ...Object.entries(machine.wheels).flatMap(([name, wheel]) => ofWheel(`machine.wheels.${name}`, wheel)),
    ...named('air', AIR),
    ['settings.feedRate', FEED_RATE] as const,
    ...Object.entries(blocks).flatMap(([name, values]) => ofBlock(name, BLOCKS[name], values)),
  ]);
}

function named(path: string, parameters: readonly Parameter[]): Found[] {
  return parameters.map((parameter) => [`${path}.${parameter.name}`, parameter]);
}

function ofLaw(path: string, choice: LawChoice, registry: Laws): Found[] {
  if (!Object.hasOwn(registry, choice.law)) throw new RangeError(`${path}: no law ${choice.law}`);
  return named(path, registry[choice.law]!.parameters);
}

function ofComponent(at: string, { material, feed }: Component): Found[] {
  return [
    ...(at === '' ? [] : [[`${at}share`, SHARE] as const]),
    ...named(`${at}material`, MATERIAL),
    ...ofLaw(`${at}material.selection`, material.selection, SELECTION_LAWS),
    ...ofLaw(`${at}material.fragments`, material.fragments, FRAGMENT_LAWS),
    ...ofLaw(`${at}feed`, feed, FEED_LAWS),
  ];
}

function ofRotor(path: string): Found[] {
  return [
    ...named(`${path}.geometry`, ROTOR_GEOMETRY),
    ...named(`${path}.coefficients`, ROTOR_COEFFICIENTS),
    ...named(`${path}.motor`, MOTOR),
    [`${path}.maxSpeed`, ROTOR_MAX_SPEED],
  ];
}

function ofWheel(path: string, { efficiency }: Wheel): Found[] {
  return [
    ...named(`${path}.geometry`, WHEEL_GEOMETRY),
    ...named(`${path}.coefficients`, WHEEL_COEFFICIENTS),
    ...ofLaw(`${path}.efficiency`, efficiency, EFFICIENCY_LAWS),
    [`${path}.maxSpeed`, WHEEL_MAX_SPEED],
  ];
}

function ofBlock(path: string, shape: BlockShape | undefined, values: BlockValues): Found[] {
  if (shape === undefined) return [];
  const { parameters = [], laws = {}, blocks = {}, lists = {} } = shape;
  const inner = (key: string): BlockValues => (values[key] ?? {}) as BlockValues;
  return [
    ...named(path, parameters),
    ...Object.entries(laws).flatMap(([key, { registry }]) =>
      ofLaw(`${path}.${key}`, inner(key) as unknown as LawChoice, registry),
    ),
    ...Object.entries(blocks).flatMap(([key, of]) => ofBlock(`${path}.${key}`, of, inner(key))),
    ...Object.entries(lists).flatMap(([key, of]) =>
      ((values[key] ?? []) as readonly BlockValues[]).flatMap((item, i) =>
        ofBlock(`${path}.${key}.${i}`, of, item),
      ),
    ),
  ];
}
