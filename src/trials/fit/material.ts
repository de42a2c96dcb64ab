import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import { type Belief, LAW_BELIEFS } from './beliefs.ts';
import type { Coefficient } from './coefficient.ts';
import { coefficientAt } from './coefficient-at.ts';

/** Components of at least this share are fitted (`assumed`): of less, breakage hardly shows in the product. */
const FITTED_SHARE = 0.05;

/** Breakage of every component of which there is enough to show. */
export function materialCoefficients(scenario: Scenario): Coefficient[] {
  const { components } = scenario;
  return components.flatMap(({ material, share }, k) => {
    if (share < FITTED_SHARE) return [];
    const base = materialPath(scenario, k);
    const called = (symbol: string): string =>
      components.length > 1 ? `${symbol} (${material.name})` : symbol;
    return (['selection', 'fragments'] as const).flatMap((kind) =>
      Object.entries(beliefsOf(kind, material[kind].law)).flatMap(([name, belief]) =>
        coefficientAt(scenario, `${base}.${kind}.${name}`, belief).map((one) => ({
          ...one,
          symbol: called(one.symbol),
        })),
      ),
    );
  });
}

/** Beliefs about the parameters of a law; none where it has no free one. */
function beliefsOf(kind: 'selection' | 'fragments', law: string): Readonly<Record<string, Belief>> {
  return LAW_BELIEFS[`${kind} ${law}`] ?? {};
}

/** What of the materials no trial can move, in words: components of too small a share, laws without a free coefficient. */
export function leftAsGiven({ components }: Scenario): string[] {
  return components.flatMap(({ material: { name, selection, fragments }, share }) => {
    if (share < FITTED_SHARE)
      return [
        `${name}, ${formatNumber(100 * share)} % of the feed: breakage stays as given, so little of it hardly shows`,
      ];
    return [
      ...(anyOf('selection', selection.law)
        ? []
        : [`${name}: selection law ${selection.law} stays as given`]),
      ...(anyOf('fragments', fragments.law) ? [] : [`${name}: fragment law ${fragments.law} stays as given`]),
    ];
  });
}

const anyOf = (kind: 'selection' | 'fragments', law: string): boolean =>
  Object.keys(beliefsOf(kind, law)).length > 0;

function materialPath(scenario: Scenario, component: number): string {
  const listed = Object.keys(scenario.provenance).some((path) => path.startsWith('components.'));
  return listed ? `components.${component}.material` : 'material';
}
