import { quantityNamed } from '../scenario/outcome/quantities.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatQuantity, toShown } from '../scenario/units/display.ts';
import type { Supported } from '../search/find/chance-constrained.ts';
import type { Found, FoundPoint, FoundSetting } from '../search/find/find.ts';
import type { SearchSpace } from '../search/find/space.ts';
import type { Relaxed } from '../search/find/which-limit-to-relax.ts';

/** All that `find` has found. */
export interface FindAnswer {
  readonly scenario: Scenario;
  readonly space: SearchSpace;
  /** By the model at its mean. */
  readonly nominal: Found;
  /** With the spread of model, feed lot and analyser; absent where no confidence is asked. It then comes first. */
  readonly robust: Supported | undefined;
  readonly capacity: FoundPoint | undefined;
  /** What would have to give, where nothing meets the spec. */
  readonly relaxed: readonly Relaxed[];
}

/** A setting as it is typed after `--set`. */
export function typedSetting({ path, value, shownIn }: FoundSetting): string {
  if (typeof value === 'string') return `${path}=${value}`;
  const number = Number(toShown(value, shownIn).toPrecision(9));
  return `${path}=${number}${shownIn === '1' ? '' : ` ${shownIn}`}`;
}

/** `rotorSpeed 5540 rpm`. */
export function settingInWords({ path, value, shownIn }: FoundSetting): string {
  return typeof value === 'string' ? `${path} ${value}` : `${path} ${formatQuantity(value, shownIn, 7)}`;
}

/** All settings of a point in one line. */
export function settingsInWords({ settings }: FoundPoint): string {
  return settings.map(settingInWords).join(', ');
}

/** What the goal comes to at a point. */
export function goalInWords({ goal }: Scenario, { goal: value }: FoundPoint): string {
  if (!goal) return 'smallest margin as large as it can be';
  return `${goal.text}: ${goalValue(goal, value)}`;
}

/** A goal's value with its unit; a goal that computes is shown in SI, as a bare number. */
export function goalValue({ expression }: NonNullable<Scenario['goal']>, value: number): string {
  return formatQuantity(
    value,
    expression.kind === 'quantity' ? quantityNamed(expression.name)!.shownIn : '1',
  );
}
