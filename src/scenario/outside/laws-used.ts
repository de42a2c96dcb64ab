import type { Warning } from '../../model/parameters.ts';
import { type Fault, InputError } from '../errors.ts';
import { type Expression, namesIn } from '../expression/expression.ts';
import type { Scenario } from '../scenario.ts';
import { LAW_KINDS, type LawKind, type LawOrigin } from './law-module.ts';
import { originOf, registeredModules } from './registered.ts';

/** Something a scenario or sweep uses that is not the program's own. */
export interface UsedFromOutside {
  readonly kind: LawKind;
  readonly name: string;
  readonly origin: LawOrigin;
}

/** Versions of modules by their names, as stores and calibrations keep them. */
export type LawVersions = Readonly<Record<string, string>>;

/** What a scenario may use besides what its file says. */
interface Besides {
  readonly design?: string;
  readonly quantities?: readonly string[];
}

/** Every law, design and quantity of a scenario that came from a module, each once. */
export function usedFromOutside(
  scenario: Pick<Scenario, 'components' | 'machine' | 'spec' | 'goal' | 'grades' | 'sweep'>,
  besides: Besides = {},
): UsedFromOutside[] {
  if (registeredModules().length === 0) return [];
  const { components, machine, sweep } = scenario;
  const named: (readonly [LawKind, string | undefined])[] = [
    ...components.flatMap(({ material, feed }) => [
      ['selection', material.selection.law] as const,
      ['fragments', material.fragments.law] as const,
      ['feed', feed.law] as const,
    ]),
    ...Object.values(machine.wheels).map(({ efficiency }) => ['efficiency', efficiency.law] as const),
    ...[sweep?.design, besides.design].map((design) => ['designs', design] as const),
    ...[...quantitiesIn(scenario), ...(besides.quantities ?? [])].map(
      (name) => ['quantities', name] as const,
    ),
    ...(sweep?.factors ?? []).flatMap(namesOfLevels),
  ];
  const found = new Map<string, UsedFromOutside>();
  for (const [kind, name] of named) {
    const origin = name === undefined ? undefined : originOf(kind, name);
    if (origin) found.set(`${kind} ${name}`, { kind, name: name!, origin });
  }
  return [...found.values()];
}

/** Levels of a factor that may be laws. */
function namesOfLevels(factor: NonNullable<Scenario['sweep']>['factors'][number]) {
  if (factor.kind !== 'levels') return [];
  const kinds: readonly LawKind[] = ['selection', 'fragments', 'efficiency', 'feed'];
  return factor.levels.flatMap((level) =>
    typeof level === 'string' ? kinds.map((kind) => [kind, level] as const) : [],
  );
}

function quantitiesIn({ spec, goal, grades = {} }: Pick<Scenario, 'spec' | 'goal' | 'grades'>): string[] {
  const goals = [goal, ...Object.values(grades).map((grade) => grade.goal)];
  const requirements = [spec, ...Object.values(grades).map((grade) => grade.spec)].flat();
  const expressions: Expression[] = [
    ...requirements.flatMap(({ left, right }) => [left, right]),
    ...goals.flatMap((each) => (each ? [each.expression] : [])),
  ];
  return expressions.flatMap((expression) => [...namesIn(expression)]);
}

/** The modules behind what is used, by name; undefined where all is the program's own. */
export function versionsOf(used: readonly UsedFromOutside[]): LawVersions | undefined {
  if (used.length === 0) return undefined;
  return Object.fromEntries(used.map(({ origin }) => [origin.name, origin.version]));
}

/** Digits of a version that tell it from others. */
const TOLD = 12;

/** `my-laws.js (3f2a9c01b7de)`. */
export function originWords({ name, version }: Pick<LawOrigin, 'name' | 'version'>): string {
  return `${name} (${version.slice(0, TOLD)})`;
}

/** One note for each module used: what comes from it. */
export function outsideWarnings(used: readonly UsedFromOutside[]): Warning[] {
  const modules = new Map(used.map(({ origin }) => [origin.name, origin]));
  return [...modules.values()].map((origin) => {
    const own = used.filter((each) => each.origin.name === origin.name);
    const what = own.map(({ kind, name }) => `${LAW_KINDS[kind]} ${name}`).join(', ');
    const message = `from ${originWords(origin)}, not part of grindloop: ${what}`;
    return { code: 'law-from-outside', message };
  });
}

/**
 * Refuses stored work that was made with other laws than those loaded.
 *
 * @param place the store or calibration
 * @param made what was done with them, e.g. `swept`
 * @param again what makes it anew, e.g. `sweep again`
 * @throws InputError naming every module that is missing or differs
 */
export function requireLaws(place: string, made: string, again: string, versions: unknown): void {
  const faults = lawFaults(place, made, again, versions);
  if (faults.length > 0) throw new InputError(faults);
}

/** What `requireLaws` refuses, as faults. */
export function lawFaults(place: string, made: string, again: string, versions: unknown): Fault[] {
  if (typeof versions !== 'object' || versions === null) return [];
  return Object.entries(versions).flatMap(([name, version]) => {
    const here = registeredModules().find((module) => module.name === name);
    const was = originWords({ name, version: String(version) });
    if (here === undefined)
      return [
        { place, message: `was ${made} with laws from ${was}, which is not loaded; add --with ${name}` },
      ];
    if (here.version === String(version)) return [];
    const now = here.version.slice(0, TOLD);
    return [
      {
        place,
        message: `was ${made} with laws from ${was}, which has changed since (now ${now}); load the file as it was, or ${again}`,
      },
    ];
  });
}
