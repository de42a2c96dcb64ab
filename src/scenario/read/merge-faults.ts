import type { Fault } from '../errors.ts';

/** Place below a wheel or another rotor: what stands before it, its name, and the rest. */
const PART = /^(.*machine\.(?:wheels|rotors)\.)([^.]+)(\..+)$/s;

/** Faults that several wheels, or several rotors, have alike: each told once, at the first, with the others named. */
export function toldTogether(faults: readonly Fault[]): readonly Fault[] {
  const alike = new Map<string, Fault[]>();
  for (const fault of faults) {
    const [, before, , rest] = PART.exec(fault.place) ?? [];
    const key = JSON.stringify([before ?? fault, rest, fault.message]);
    alike.set(key, [...(alike.get(key) ?? []), fault]);
  }
  return [...alike.values()].map(([first, ...others]) => {
    if (others.length === 0) return first!;
    return { ...first!, message: `${first!.message}; the same for ${others.map(named).join(', ')}` };
  });
}

function named({ place, line }: Fault): string {
  const name = PART.exec(place)![2]!;
  return line === undefined ? name : `${name} (line ${line})`;
}
