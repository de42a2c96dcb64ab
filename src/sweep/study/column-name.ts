/**
 * Unit as the tail of a column's head: `kg/h` → `kg_per_h`, `m^2/kg` → `m2_per_kg`, `%` → `pct`; nothing for a pure
 * number.
 */
function unitSuffix(unit: string): string {
  if (unit === '1' || unit === '') return '';
  if (unit === '%') return 'pct';
  if (unit === 'degC') return 'C';
  return unit
    .replace(/^1\//, 'per_')
    .replaceAll('/', '_per_')
    .replaceAll(/[\^()]/g, '')
    .replaceAll(/[^A-Za-z0-9]+/g, '_');
}

/**
 * Name and unit as a column's head: `wheel.geometry.height`, `mm` → `wheel_geometry_height_mm`.
 *
 * @example columnHead('wheel.geometry.height', 'mm') // 'wheel_geometry_height_mm'
 */
export function columnHead(name: string, unit: string): string {
  const stem = name.replaceAll(/[^\p{L}\p{M}\p{N}]+/gu, '_').replaceAll(/^_+|_+$/g, '');
  const suffix = unitSuffix(unit);
  return suffix === '' ? stem : `${stem}_${suffix}`;
}

/**
 * Heads made distinct without regard to case, which a store does not see: a repeat gets `_2`, `_3` …
 *
 * @example distinctHeads(['a', 'A']) // ['a', 'A_2']
 */
export function distinctHeads(heads: readonly string[]): string[] {
  const taken = new Set<string>();
  return heads.map((head) => {
    let name = head;
    for (let k = 2; taken.has(name.toLowerCase()); k++) name = `${head}_${k}`;
    taken.add(name.toLowerCase());
    return name;
  });
}
