import type { FragmentLaw } from '../../model/breakage/fragments/fragment-law.ts';
import type { SelectionLaw } from '../../model/breakage/selection/selection-law.ts';
import type { FeedLaw } from '../../model/psd/feed/feed-law.ts';
import type { EfficiencyLaw } from '../../model/wheel/efficiency/efficiency-law.ts';
import { addDesign, removeDesign } from '../design/designs.ts';
import { type Fault, InputError } from '../errors.ts';
import { entry as quantityEntry } from '../outcome/entry.ts';
import { addQuantity, removeQuantity } from '../outcome/quantities.ts';
import { ADDED, type Solved } from '../outcome/quantity.ts';
import { EFFICIENCY_LAWS, FEED_LAWS, FRAGMENT_LAWS, SELECTION_LAWS } from '../read/laws.ts';
import type { LawModule, LawOrigin, OwnQuantity } from './law-module.ts';
import { listsOf, moduleFaults } from './module-faults.ts';
import { forgetRegistered, noteRegistered, registeredModules } from './registered.ts';

/**
 * Takes up laws, designs and quantities, all of them or none.
 *
 * @param solved a point at which quantities are read
 * @throws InputError with every rule of conformance that is broken and every name that is taken
 */
export function takeUpLaws(module: LawModule, origin: LawOrigin, solved: Solved): void {
  const known = registeredModules().find(({ name }) => name === origin.name);
  if (known && known.version === origin.version && known.path === origin.path) return;
  const faults: Fault[] = known
    ? [{ place: origin.name, message: 'is loaded already, from another file or version; rename one of them' }]
    : moduleFaults(module as Readonly<Record<string, unknown>>, origin.name, solved);
  if (faults.length > 0) throw new InputError(faults);
  const {
    selection = [],
    fragments = [],
    efficiency = [],
    feed = [],
    designs = [],
    quantities = [],
  } = module;
  for (const law of selection) (SELECTION_LAWS as Record<string, SelectionLaw>)[law.name] = law;
  for (const law of fragments) (FRAGMENT_LAWS as Record<string, FragmentLaw>)[law.name] = law;
  for (const law of efficiency) (EFFICIENCY_LAWS as Record<string, EfficiencyLaw>)[law.name] = law;
  for (const law of feed) (FEED_LAWS as Record<string, FeedLaw>)[law.name] = law;
  designs.forEach(addDesign);
  for (const quantity of quantities) addQuantity(asQuantity(quantity));
  const gave = listsOf(module).flatMap(([kind, entries]) =>
    entries.map((one) => [kind, (one as { name: string }).name] as const),
  );
  noteRegistered(origin, gave);
}

/** Takes the laws, designs and quantities of a module out again, e.g. to load a changed one. Scenarios that use them stop working. */
export function releaseLaws({ name: module }: Pick<LawOrigin, 'name'>): void {
  const registries = {
    selection: SELECTION_LAWS,
    fragments: FRAGMENT_LAWS,
    efficiency: EFFICIENCY_LAWS,
    feed: FEED_LAWS,
  };
  for (const [kind, name] of forgetRegistered(module)) {
    if (kind === 'designs') removeDesign(name);
    else if (kind === 'quantities') removeQuantity(name);
    else delete (registries[kind] as Record<string, unknown>)[name];
  }
}

function asQuantity({ name, symbol, unit, shownIn, meaning, of }: OwnQuantity) {
  return quantityEntry(ADDED, name, symbol, [unit, shownIn, keySuffix(shownIn)], meaning, of);
}

/** A unit as the end of a key: `kWh/t` → `kWh_per_t`. */
function keySuffix(unit: string): string {
  if (unit === '1') return '';
  if (unit === '%') return 'pct';
  if (unit === 'degC') return 'C';
  return unit.replaceAll('/', '_per_').replace(/[()^]/g, '').replaceAll(' ', '_');
}
