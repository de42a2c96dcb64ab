/**
 * What a number that was varied is to whoever runs the mill: a setting that can be turned, a design that has to be built, or a
 * property that is measured and cannot be chosen.
 */
export type FactorKind = 'setting' | 'design' | 'property';

const SETTINGS: ReadonlySet<string> = new Set(['rotorSpeed', 'wheelSpeed', 'wheel', 'feedRate']);
/** Coefficients of rotor and wheel, the material and what is fed. */
const PROPERTY =
  /(^|\.)(coefficients|material|feed|components|fragments|selection)(\.|$)|\.(loopTime|chokeLoad)$/;

/**
 * Kind of a factor by its path.
 *
 * @example factorKind('wheel.geometry.height') // 'design'
 */
export function factorKind(path: string): FactorKind {
  const name = path.replace(/^settings\./, '');
  if (SETTINGS.has(name) || path.startsWith('air.')) return 'setting';
  return PROPERTY.test(path) ? 'property' : 'design';
}
