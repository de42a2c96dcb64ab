import type { Scenario } from './scenario.ts';

/**
 * Path in the file, as faults and evidence name it, of a path as the user writes it: a bare name (`rotorSpeed`, `wheel`) is a
 * setting, `wheel.…` is of the chosen wheel, anything else stands as it is.
 *
 * @param wheel name of the chosen wheel
 * @example pathInFile('wheel.geometry.height', 'tall') // 'machine.wheels.tall.geometry.height'
 */
export function pathInFile(path: string, wheel: string): string {
  if (!path.includes('.')) return `settings.${path}`;
  return path.replace(/^wheel\./, `machine.wheels.${wheel}.`);
}

/** Whether what stands at a path in the file is used at the operating point: not of another wheel or rotor. */
export function isInUse(path: string, wheel: string): boolean {
  return path.startsWith(`machine.wheels.${wheel}.`) || !/^machine\.(wheels|rotors)\./.test(path);
}

/**
 * Keys from the root of the checked tree for a path as the user writes it: that of the file, but `material.…` and `feed.…`
 * stand with the single component, `plant.…` and `time.…` among the optional blocks.
 */
export function treePath(
  { settings, blocks }: Pick<Scenario, 'settings' | 'blocks'>,
  path: string,
): string[] {
  const keys = pathInFile(path, settings.wheel).split('.');
  const head = keys[0]!;
  if (head === 'material' || head === 'feed') return ['components', '0', ...keys];
  return Object.hasOwn(blocks, head) ? ['blocks', ...keys] : keys;
}
