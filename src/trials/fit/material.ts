import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import { type Coefficient, coefficient, SPREAD } from './coefficient.ts';

const FRAGMENT_LIMITS = [0.05, 6] as const;

/** Which parameters of each law are fitted; a law not listed keeps its values. */
const SELECTION: Readonly<
  Record<string, readonly (readonly [name: string, symbol: string, unit: string, spread: number])[]>
> = {
  impact: [
    ['friability', 'f', 'kg/(J m)', SPREAD.friability],
    ['threshold', 'c', 'J m/kg', SPREAD.threshold],
  ],
  power: [['rate', 'a', '1', SPREAD.friability]],
  'log-energy': [['energy', 'C', 'J/kg', SPREAD.threshold]],
};
const FRAGMENTS: Readonly<Record<string, readonly (readonly [name: string, symbol: string])[]>> = {
  impact: [['exponent', 'q']],
  power: [['exponent', 'a']],
  'two-power': [['fineExponent', 'γ']],
};

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
    const { selection, fragments } = material;
    return [
      ...(SELECTION[selection.law] ?? []).flatMap(([name, symbol, unit, spread]) =>
        coefficient(scenario, `${base}.selection.${name}`, called(symbol), unit, spread),
      ),
      ...(FRAGMENTS[fragments.law] ?? []).flatMap(([name, symbol]) =>
        coefficient(
          scenario,
          `${base}.fragments.${name}`,
          called(symbol),
          '1',
          SPREAD.fragments,
          FRAGMENT_LIMITS,
        ),
      ),
    ];
  });
}

/** What of the materials no trial can move, in words: components of too small a share, laws without a free coefficient. */
export function leftAsGiven({ components }: Scenario): string[] {
  return components.flatMap(({ material: { name, selection, fragments }, share }) => {
    if (share < FITTED_SHARE)
      return [
        `${name}, ${formatNumber(100 * share)} % of the feed: breakage stays as given, so little of it hardly shows`,
      ];
    return [
      ...(SELECTION[selection.law] ? [] : [`${name}: selection law ${selection.law} stays as given`]),
      ...(FRAGMENTS[fragments.law] ? [] : [`${name}: fragment law ${fragments.law} stays as given`]),
    ];
  });
}

function materialPath(scenario: Scenario, component: number): string {
  const listed = Object.keys(scenario.provenance).some((path) => path.startsWith('components.'));
  return listed ? `components.${component}.material` : 'material';
}
