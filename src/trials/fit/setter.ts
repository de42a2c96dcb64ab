import { treePath } from '../../scenario/path.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Coefficient, numberAt } from './coefficient.ts';

/** Sets some coefficients of one scenario, paths looked up once. */
export interface Setter {
  readonly set: (coordinates: readonly number[]) => Scenario;
  /** Which coefficients it sets. */
  readonly uses: readonly number[];
}

/** A tree of the places that are set: a leaf says which coefficient stands there, and how far along its scale. */
interface Branch {
  readonly children: Map<string, Branch>;
  leaf?: { readonly index: number; readonly shift: number };
}

/**
 * A setter of those coefficients whose path is wanted. Gives what `withCoefficients` gives; every block on the way is copied
 * once, however many coefficients lie in it.
 */
export function setterOf(
  scenario: Scenario,
  coefficients: readonly Coefficient[],
  wanted: (path: string) => boolean = () => true,
): Setter {
  const root: Branch = { children: new Map() };
  const uses = new Set<number>();
  coefficients.forEach(({ path, also = [] }, index) => {
    for (const place of [{ path, shift: 0 }, ...also]) {
      if (!wanted(place.path)) continue;
      uses.add(index);
      grow(root, treePath(scenario, place.path)).leaf = { index, shift: place.shift };
    }
  });
  return {
    uses: [...uses],
    set: (coordinates) => laid(scenario, root, coefficients, coordinates) as Scenario,
  };
}

function grow(root: Branch, keys: readonly string[]): Branch {
  let at = root;
  for (const key of keys) {
    let next = at.children.get(key);
    if (!next) {
      next = { children: new Map() };
      at.children.set(key, next);
    }
    at = next;
  }
  return at;
}

function laid(
  node: unknown,
  branch: Branch,
  coefficients: readonly Coefficient[],
  coordinates: readonly number[],
): unknown {
  if (branch.leaf) {
    const { index, shift } = branch.leaf;
    const value = numberAt(coefficients[index]!, coordinates[index]! + shift);
    // a speed keeps the way it is stated
    return typeof node === 'object' && node !== null && 'as' in node ? { ...node, value } : value;
  }
  if (branch.children.size === 0) return node;
  if (Array.isArray(node)) {
    const copy = node.slice();
    for (const [key, child] of branch.children)
      copy[Number(key)] = laid(copy[Number(key)], child, coefficients, coordinates);
    return copy;
  }
  const copy: Record<string, unknown> = { ...(node as Record<string, unknown>) };
  for (const [key, child] of branch.children) copy[key] = laid(copy[key], child, coefficients, coordinates);
  return copy;
}
