import { factorValue, isNamed } from '../../scenario/design/coordinate.ts';
import { type SitedCase, toCase, withValues } from '../../scenario/operating-point.ts';
import { treePath } from '../../scenario/path.ts';
import type { Factor, Scenario, Speed } from '../../scenario/scenario.ts';

/** The scenario at given coordinates; a factor that changes nothing there is left as it stands. */
export function scenarioAt(
  scenario: Scenario,
  factors: readonly Factor[],
  coordinates: Float64Array,
): Scenario {
  const changing: Factor[] = [];
  const values: (number | string)[] = [];
  for (let j = 0; j < factors.length; j++) {
    if (Number.isNaN(coordinates[j])) continue;
    changing.push(factors[j]!);
    values.push(factorValue(factors[j]!, coordinates[j]!));
  }
  return withValues(scenario, changing, values);
}

/**
 * Coordinates → operating point, the same as `toCase(scenarioAt(…))` for a third of its time. For each combination of
 * names one scenario is kept whose numbers are overwritten in place, so a case holds until the next call. Numbers of
 * materials and feed go the long way, since the model keeps what it derived from them for as long as they are the
 * same object.
 */
export function caseMaker(
  scenario: Scenario,
  factors: readonly Factor[],
): (coordinates: Float64Array) => SitedCase {
  const templates = new Map<string, Template>();
  const named = factors.map(isNamed);
  const names = factors.map((factor) => (factor.kind === 'levels' ? factor.levels : []));
  return (coordinates) => {
    let key = '';
    for (let j = 0; j < factors.length; j++) {
      if (named[j]) key += `${names[j]![coordinates[j]!]}\n`;
      else if (Number.isNaN(coordinates[j])) key += '-';
    }
    let template = templates.get(key);
    if (template === undefined) {
      template = templateAt(scenario, factors, coordinates);
      templates.set(key, template);
    }
    for (const { place, leaf, factor } of template.slots) place[leaf] = coordinates[factor]!;
    if (template.rest.length === 0) return toCase(template.scenario);
    const values = template.rest.map((j) => coordinates[j]!);
    return toCase(
      withValues(
        template.scenario,
        template.rest.map((j) => factors[j]!),
        values,
      ),
    );
  };
}

/** A number of the template that a factor overwrites. */
interface Slot {
  readonly place: Record<string, unknown>;
  readonly leaf: string;
  readonly factor: number;
}

interface Template {
  readonly scenario: Scenario;
  readonly slots: readonly Slot[];
  /** Factors that go the long way. */
  readonly rest: readonly number[];
}

function templateAt(scenario: Scenario, factors: readonly Factor[], coordinates: Float64Array): Template {
  const root = { ...scenarioAt(scenario, factors, coordinates) };
  const copied = new Set<object>([root]);
  const slots: Slot[] = [];
  const rest: number[] = [];
  factors.forEach((factor, j) => {
    if (isNamed(factor) || Number.isNaN(coordinates[j])) return;
    const keys = treePath(root, factor.path);
    if (keys[0] === 'components') rest.push(j);
    else slots.push({ ...slotAt(root as unknown as Tree, keys, copied, factor.as), factor: j });
  });
  return { scenario: root, slots, rest };
}

type Tree = Record<string, unknown>;

/** Copies the objects on the way to a number, once each, and tells where the number stands. */
function slotAt(
  root: Tree,
  keys: readonly string[],
  copied: Set<object>,
  as: Speed['as'] | undefined,
): Omit<Slot, 'factor'> {
  let node = root;
  const way = as === undefined ? keys.slice(0, -1) : keys;
  for (const key of way) {
    let next = node[key] as Tree;
    if (!copied.has(next)) {
      next = { ...next };
      copied.add(next);
      node[key] = next;
    }
    node = next;
  }
  return { place: node, leaf: as === undefined ? keys.at(-1)! : 'value' };
}
