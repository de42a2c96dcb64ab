import { valueAt, withValue } from '../../scenario/operating-point.ts';
import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { matchWheel, type Target } from './match.ts';
import { finesBelow } from './values.ts';

/** What a better coefficient would be worth at the same fineness, everything else held. */
export interface Worth {
  readonly coefficient: 'sharpness' | 'bypass' | 'leakage';
  readonly from: number;
  readonly to: number;
  /** Share below the fines limit, specific energy [J/kg] and feed margin before and after; absent where not reached. */
  readonly fines?: readonly [number, number];
  readonly energy?: readonly [number, number];
  readonly margin?: readonly [number, number];
}

/** Better by as much as two builds of a wheel plausibly differ (`assumed`). */
const BETTER = { sharpness: 1.15, bypass: 0.5, leakage: 0.5 } as const;

/** Sharpness, bypass and leakage improved one at a time, wheel speed solved anew for the target. */
export function worthOf(scenario: Scenario, wheel: string, target: Target, fines: number): Worth[] {
  const before = matchWheel(scenario, wheel, target);
  return (['sharpness', 'bypass', 'leakage'] as const).flatMap((coefficient): Worth[] => {
    const path = `machine.wheels.${wheel}.coefficients.${coefficient}`;
    const from = valueAt(scenario, path);
    if (typeof from !== 'number' || from === 0) return [];
    const to = Math.min(coefficient === 'sharpness' ? 0.95 : 1, from * BETTER[coefficient]);
    const after = matchWheel(withValue(scenario, path, to), wheel, target);
    if (!before.reached || !after.reached) return [{ coefficient, from, to }];
    const pair = (name: string) =>
      [before, after].map(({ solved }) => quantityNamed(name)!.of(solved)) as [number, number];
    return [
      {
        coefficient,
        from,
        to,
        fines: [finesBelow(before.solved, fines), finesBelow(after.solved, fines)],
        energy: pair('specificEnergy'),
        margin: pair('feedMargin'),
      },
    ];
  });
}
