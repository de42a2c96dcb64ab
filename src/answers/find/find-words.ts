import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatQuantity, toShown } from '../../scenario/units/display.ts';
import type { FoundPoint, FoundSetting } from '../../search/find/find.ts';
import { settingsText } from '../settings-words.ts';
import { goalWords } from '../words.ts';

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

/** Settings of a point as every answer says them, with what of the design differs from the file. */
export function settingsInWords(file: Scenario, { scenario, settings }: FoundPoint): string {
  const changes = settings.map(({ path, value, as }) => ({ path, value, ...(as ? { as } : {}) }));
  return settingsText(scenario, file, changes);
}

/** How the point is seen again: `run FILE --set "rotorSpeed=5540 rpm" …`. */
export function runAgain({ settings }: FoundPoint): string {
  return `To see it: run FILE ${settings.map((setting) => `--set "${typedSetting(setting)}"`).join(' ')}`;
}

/** What the goal comes to at a point. */
export function goalInWords({ goal }: Scenario, { goal: value }: FoundPoint): string {
  if (!goal) return 'smallest margin as large as it can be';
  return `${goalWords(goal)}: ${goalValue(goal, value)}`;
}

/** Unit of a goal; a goal that computes is shown in SI, as a bare number. */
export function goalUnit({ expression }: NonNullable<Scenario['goal']>): string {
  return expression.kind === 'quantity' ? quantityNamed(expression.name)!.shownIn : '1';
}

/** A goal's value with its unit. */
export function goalValue(goal: NonNullable<Scenario['goal']>, value: number): string {
  return formatQuantity(value, goalUnit(goal));
}
