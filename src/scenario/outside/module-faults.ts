import { efficiencyFaults } from '../../model/conformance/efficiency-conformance.ts';
import { feedFaults } from '../../model/conformance/feed-conformance.ts';
import { fragmentFaults } from '../../model/conformance/fragment-conformance.ts';
import { brokenRules } from '../../model/conformance/rule.ts';
import { selectionFaults } from '../../model/conformance/selection-conformance.ts';
import type { LawHeader } from '../../model/parameters.ts';
import { DESIGNS } from '../design/designs.ts';
import type { Fault } from '../errors.ts';
import { QUANTITIES } from '../outcome/quantities.ts';
import type { Solved } from '../outcome/quantity.ts';
import { suggestion } from '../read/did-you-mean.ts';
import { EFFICIENCY_LAWS, FEED_LAWS, FRAGMENT_LAWS, SELECTION_LAWS } from '../read/laws.ts';
import { designFaults } from './design-rules.ts';
import { LAW_KINDS, type LawKind, type LawModule } from './law-module.ts';
import { quantityFaults, unitRule } from './quantity-rules.ts';
import { originOf } from './registered.ts';

/** Conformance of one entry of a list, a sentence each. */
type Conformance = (entry: never, solved: Solved) => string[];

const CONFORMANCE: Readonly<Record<LawKind, Conformance>> = {
  selection: withUnits(selectionFaults),
  fragments: withUnits(fragmentFaults),
  efficiency: withUnits(efficiencyFaults),
  feed: withUnits(feedFaults),
  designs: designFaults,
  quantities: quantityFaults,
};

/** A law whose parameters are in units that a scenario can write. */
function withUnits<L extends LawHeader>(conformance: (law: L) => string[]) {
  return (law: L): string[] => {
    const found = conformance(law);
    const parameters = Array.isArray(law.parameters) ? law.parameters : [];
    return [...found, ...brokenRules(parameters.map((parameter) => unitRule(parameter.name, parameter)))];
  };
}

/** Names the program has of each kind, with what was registered before. */
const TAKEN: Readonly<Record<LawKind, () => readonly string[]>> = {
  selection: () => Object.keys(SELECTION_LAWS),
  fragments: () => Object.keys(FRAGMENT_LAWS),
  efficiency: () => Object.keys(EFFICIENCY_LAWS),
  feed: () => Object.keys(FEED_LAWS),
  designs: () => DESIGNS.map(({ name }) => name),
  quantities: () => QUANTITIES.map(({ name }) => name),
};

/**
 * Everything for which a module is refused: lists it has no business to give, names that are taken, and every rule of
 * conformance that an entry breaks.
 *
 * @param name of the module, for messages
 * @param solved a point at which quantities are read
 */
export function moduleFaults(
  module: Readonly<Record<string, unknown>>,
  name: string,
  solved: Solved,
): Fault[] {
  const lists = Object.keys(module);
  const unknown = lists.filter((list) => !Object.hasOwn(LAW_KINDS, list));
  const kinds = Object.keys(LAW_KINDS);
  const faults: Fault[] = unknown.map((list) => ({
    place: name,
    message: `gives ${list}; it may give ${kinds.join(', ')}${suggestion(list, kinds)}`,
  }));
  if (lists.length === 0)
    faults.push({
      place: name,
      message: `gives nothing; it must export one of ${kinds.join(', ')}, each a list`,
    });
  for (const [kind, entries] of listsOf(module)) {
    if (!Array.isArray(entries)) {
      faults.push({ place: name, message: `${kind} must be a list, e.g. export const ${kind} = [ … ]` });
      continue;
    }
    for (const [at, entry] of entries.entries())
      faults.push(...entryFaults(kind, entry, entries.slice(0, at), name, solved));
  }
  return faults;
}

/** The lists of a module that are known. */
export function listsOf(
  module: LawModule | Readonly<Record<string, unknown>>,
): (readonly [LawKind, readonly unknown[]])[] {
  return Object.entries(module).flatMap(([kind, entries]) =>
    Object.hasOwn(LAW_KINDS, kind) ? [[kind as LawKind, entries as readonly unknown[]] as const] : [],
  );
}

function entryFaults(
  kind: LawKind,
  entry: unknown,
  before: readonly unknown[],
  module: string,
  solved: Solved,
): Fault[] {
  if (typeof entry !== 'object' || entry === null)
    return [{ place: module, message: `an entry of ${kind} must be an object, is ${typeof entry}` }];
  const { name } = entry as { name?: unknown };
  const place = `${module}: ${LAW_KINDS[kind]} ${String(name)}`;
  const found = CONFORMANCE[kind](entry as never, solved);
  if (before.some((other) => (other as { name?: unknown })?.name === name))
    found.push('is given twice; keep one');
  else if (TAKEN[kind]().includes(String(name))) {
    const owner = originOf(kind, String(name))?.name ?? 'grindloop';
    found.push(`has a name that is taken by one of ${owner}; choose another`);
  }
  return found.map((message) => ({ place, message }));
}
