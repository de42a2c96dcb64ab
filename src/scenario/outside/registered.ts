import type { LawKind, LawOrigin } from './law-module.ts';

/** A module that was taken up, and the names it gave. */
interface Registered extends LawOrigin {
  readonly gave: readonly (readonly [kind: LawKind, name: string])[];
}

/**
 * The modules of this process or thread. A registry is global because laws are looked up deep within the model; it is
 * written to by `register.ts` alone.
 */
const MODULES: Registered[] = [];

/** Notes that a module was taken up. */
export function noteRegistered(origin: LawOrigin, gave: Registered['gave']): void {
  MODULES.push({ ...origin, gave });
}

/** Forgets a module; returns what it gave. */
export function forgetRegistered(name: string): Registered['gave'] {
  const at = MODULES.findIndex((module) => module.name === name);
  return at < 0 ? [] : MODULES.splice(at, 1)[0]!.gave;
}

/** The modules taken up, in order. */
export function registeredModules(): readonly LawOrigin[] {
  return MODULES;
}

/** Which module gave a law, design or quantity; undefined for those of the program. */
export function originOf(kind: LawKind, name: string): LawOrigin | undefined {
  return MODULES.find(({ gave }) => gave.some(([of, own]) => of === kind && own === name));
}
