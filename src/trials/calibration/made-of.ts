import { parse } from 'yaml';
import { toCase } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Trial } from '../trial.ts';

/** What a calibration is of, and what it has seen. SI. */
export interface MadeOf {
  readonly materials: readonly string[];
  readonly machine: string;
  /** Wheels run, and those the machine has. */
  readonly wheels: readonly string[];
  readonly feed: readonly string[];
  /** Entry of the catalogue that machine and material are, where the scenario takes it as it is. */
  readonly from?: { readonly machine?: string; readonly material?: string };
  readonly covered: Covered;
}

/** Least and largest of each setting over the trials, SI: rotor tip and wheel rim speed, feed rate, air flow. */
export interface Covered {
  readonly rotorTip: readonly [number, number];
  readonly wheelRim: readonly [number, number];
  readonly feedRate: readonly [number, number];
  readonly airFlow: readonly [number, number];
}

/** The settings a calibration's cover is judged by, SI. */
export function coveredBy(scenario: Scenario): Record<keyof Covered, number> {
  const { rotor, wheel, settings, air } = toCase(scenario);
  return {
    rotorTip: Math.PI * rotor.geometry.diameter * settings.rotorSpeed,
    wheelRim: Math.PI * wheel.geometry.diameter * settings.wheelSpeed,
    feedRate: settings.feedRate,
    airFlow: air.flow,
  };
}

/** What the trials of a scenario are of. */
export function madeOf(scenario: Scenario, trials: readonly Trial[]): MadeOf {
  const rows = trials.map((trial) => coveredBy(trial.scenario));
  const range = (name: keyof Covered): readonly [number, number] => {
    const values = rows.map((row) => row[name]);
    return [Math.min(...values), Math.max(...values)];
  };
  return {
    materials: scenario.components.map(({ material }) => material.name),
    machine: scenario.machine.name,
    wheels: [...new Set(trials.map((trial) => trial.scenario.settings.wheel))],
    feed: scenario.components.map(({ feed }) => feed.law),
    ...fromOf(scenario),
    covered: {
      rotorTip: range('rotorTip'),
      wheelRim: range('wheelRim'),
      feedRate: range('feedRate'),
      airFlow: range('airFlow'),
    },
  };
}

/** The bare entries of the catalogue that a scenario's text names; a file's place is known to that scenario alone. */
function fromOf({ text }: Scenario): Pick<MadeOf, 'from'> {
  const file: unknown = parse(text);
  if (typeof file !== 'object' || file === null) return {};
  const named = (block: unknown): string | undefined => {
    const keys = typeof block === 'object' && block !== null ? Object.keys(block) : [];
    const name = keys.join() === 'from' ? (block as { from: unknown }).from : block;
    return typeof name === 'string' && /^[\w-]+$/.test(name) ? name : undefined;
  };
  const { machine, material } = file as Record<string, unknown>;
  const [ofMachine, ofMaterial] = [named(machine), named(material)];
  if (ofMachine === undefined && ofMaterial === undefined) return {};
  return {
    from: {
      ...(ofMachine === undefined ? {} : { machine: ofMachine }),
      ...(ofMaterial === undefined ? {} : { material: ofMaterial }),
    },
  };
}
