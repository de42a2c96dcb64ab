import type { LawKind, LawOrigin } from './law-module.ts';

/** A module that was taken up, and the names it gave. */
interface Registered extends LawOrigin {
  readonly gave: readonly (readonly [kind: LawKind, name: string])[];
}

/**
 * The modules of this process or thread. A registry is global because laws are looked up deep within the model; it is
 * written to by `registerLaws` alone, before anything is read, and nothing is ever taken out.
 */
const MODULES: Registered[] = [];

/** Notes that a module was taken up. */
export function noteRegistered(origin: LawOrigin, gave: Registered['gave']): void {
  MODULES.push({ ...origin, gave });
}

/** The modules taken up, in order. */
export function registeredModules(): readonly LawOrigin[] {
  return MODULES;
}

/** Which module gave a law, design or quantity; undefined for those of the program. */
export function originOf(kind: LawKind, name: string): LawOrigin | undefined {
  return MODULES.find(({ gave }) => gave.some(([of, own]) => of === kind && own === name));
}
