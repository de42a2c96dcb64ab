import { FRAGMENT_LAWS } from '../../model/breakage/fragments/index.ts';
import { SELECTION_LAWS } from '../../model/breakage/selection/index.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber } from '../../scenario/units/display.ts';
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
      believedOf(kind, material[kind].law).flatMap((name) =>
        coefficientAt(scenario, `${base}.${kind}.${name}`).map((one) => ({
          ...one,
          symbol: called(one.symbol),
        })),
      ),
    );
  });
}

/** Parameters of a law that trials may move: those of which its records say what is believed. */
function believedOf(kind: 'selection' | 'fragments', law: string): string[] {
  const { parameters = [] } = (kind === 'selection' ? SELECTION_LAWS : FRAGMENT_LAWS)[law] ?? {};
  return parameters.flatMap(({ name, belief }) => (belief ? [name] : []));
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

const anyOf = (kind: 'selection' | 'fragments', law: string): boolean => believedOf(kind, law).length > 0;

function materialPath(scenario: Scenario, component: number): string {
  const listed = Object.keys(scenario.provenance).some((path) => path.startsWith('components.'));
  return listed ? `components.${component}.material` : 'material';
}
