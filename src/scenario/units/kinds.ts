/** What a unit measures, in words for messages. */
const KINDS: Readonly<Record<string, string>> = {
  '1': 'a pure number',
  m: 'a length',
  'm^2': 'an area',
  'm^3': 'a volume',
  'm^3/s': 'a volume flow',
  'm/s': 'a speed',
  '1/s': 'a speed of rotation',
  s: 'a time',
  kg: 'a mass',
  'kg/s': 'a mass flow',
  'kg/m^3': 'a density',
  W: 'a power',
  J: 'an energy or a torque',
  'kg m^2': 'a moment of inertia',
  'J/kg': 'an energy per mass',
  'J/(kg K)': 'a heat capacity',
  'W/K': 'a heat loss per kelvin',
  'J/K': 'a heat capacity of a body',
  'kg/(J m)': 'a friability (mass per energy and length)',
  'J m/kg': 'an energy per mass times length',
  K: 'a temperature',
  Pa: 'a pressure',
  rad: 'an angle',
  'm^2/kg': 'a surface per mass',
  A: 'a current',
};

/** What a value in this SI unit is, e.g. `a length`. */
export function kindOf(siUnit: string): string {
  return Object.hasOwn(KINDS, siUnit) ? KINDS[siUnit]! : `a value in ${siUnit}`;
}
