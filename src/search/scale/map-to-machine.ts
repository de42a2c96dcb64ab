import type { Case } from '../../model/case.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Machine } from './target.ts';

/** A machine with what it took over from the first one. */
export interface CarriedOver {
  readonly machine: Machine;
  /** Coefficients the other machine has no own value of, so that the first one's stand for them; dotted paths. */
  readonly taken: readonly string[];
}

/**
 * The other machine with coefficients of the first wherever its own are only presets: what was fitted or given on the first
 * says more about a like machine than a preset does. Heat lost through the casing follows the rotor's diameter squared;
 * water evaporated and the size grid belong to the feed.
 *
 * @param c point of the first machine
 * @param other scenario of the other machine; its feed and settings do not matter
 * @param wheelName wheel of the other machine
 */
export function carryOver(c: Case, other: Scenario, wheelName: string): CarriedOver {
  const { machine, provenance } = other;
  const taken: string[] = [];
  const preset = (path: string): boolean => !OWN_LABELS.has(provenance[path]?.label ?? 'assumed');
  const fill = <T extends object>(path: string, own: T, first: T): T => {
    const entries = Object.entries(first).filter(([name]) => preset(`${path}.${name}`));
    taken.push(
      ...entries.filter(([name, value]) => own[name as keyof T] !== value).map(([name]) => `${path}.${name}`),
    );
    return { ...own, ...Object.fromEntries(entries) };
  };
  const wheel = machine.wheels[wheelName]!;
  const { rotor } = machine;
  const ratio = rotor.geometry.diameter / c.rotor.geometry.diameter;
  return {
    machine: {
      rotor: {
        ...rotor,
        coefficients: fill('machine.rotor.coefficients', rotor.coefficients, c.rotor.coefficients),
      },
      wheel: {
        ...wheel,
        coefficients: fill(
          `machine.wheels.${wheelName}.coefficients`,
          wheel.coefficients,
          c.wheel.coefficients,
        ),
      },
      wheelName,
      loop: {
        ...machine,
        casingLoss: preset('machine.casingLoss') ? c.loop.casingLoss * ratio * ratio : machine.casingLoss,
        evaporation: c.loop.evaporation,
        classesPerOctave: c.loop.classesPerOctave,
        smallestSize: c.loop.smallestSize,
      },
    },
    taken,
  };
}

/** Labels of values that somebody stated for this machine. */
const OWN_LABELS: ReadonlySet<string> = new Set(['given', 'measured', 'fitted', 'published', 'derived']);

/**
 * Wheel of the other machine: the one asked for, the one of the same name, else the one most alike in lean and in height
 * over diameter.
 */
export function likeWheel(c: Case, other: Scenario): string {
  const { wheels } = other.machine;
  if (Object.hasOwn(wheels, c.wheelName)) return c.wheelName;
  const { lean, height, diameter } = c.wheel.geometry;
  const distance = (name: string) => {
    const { geometry } = wheels[name]!;
    return (
      Math.abs(geometry.lean - lean) +
      Math.abs(Math.log((geometry.height / geometry.diameter) * (diameter / height)))
    );
  };
  return Object.keys(wheels).reduce((best, name) => (distance(name) < distance(best) ? name : best));
}
