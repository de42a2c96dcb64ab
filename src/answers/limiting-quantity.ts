import type { Requirement } from '../scenario/expression/expression.ts';
import { quantityNamed } from '../scenario/outcome/quantities.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { type Standing, standingOf } from './standing.ts';
import { quantityText, requirementTopic } from './words.ts';

/** What is looked at where nothing is required of a quantity that the coefficients move. */
const USUAL = 'x95';

/**
 * The quantity of the requirement that limits at a point, missed worst or nearest its limit: what a reader wants to know moves.
 *
 * @returns as a column is named: `x50`, `passing(75 um)`; x95 where no requirement is on one quantity of product or machine
 */
export function limitingQuantity(scenario: Scenario, standing: Standing = standingOf(scenario)): string {
  return limiting(scenario, standing, (requirement) => quantityOf(requirement));
}

/**
 * The same of the fineness alone, for a figure in which a mill that chokes counts as above: the size or share with an upper limit
 * that is nearest it; x95 where fineness has lower limits only.
 */
export function limitingFineness(scenario: Scenario, standing: Standing = standingOf(scenario)): string {
  return limiting(scenario, standing, (requirement) =>
    requirementTopic(requirement) === 'fineness' && requirement.relation.startsWith('<')
      ? quantityOf(requirement)
      : undefined,
  );
}

function limiting(
  { spec }: Scenario,
  { relative }: Pick<Standing, 'relative'>,
  of: (requirement: Requirement) => string | undefined,
): string {
  let [least, found] = [Number.POSITIVE_INFINITY, USUAL];
  spec.forEach((requirement, k) => {
    const quantity = of(requirement);
    if (quantity !== undefined && relative[k]! < least) [least, found] = [relative[k]!, quantity];
  });
  return found;
}

/** A quantity of product, loop or machine alone on the left; what is set is not moved by any coefficient. */
function quantityOf({ left, right }: Requirement): string | undefined {
  if (left.kind !== 'quantity' || right.kind !== 'number') return undefined;
  if (quantityNamed(left.name)?.group === 'settings') return undefined;
  return quantityText(left.name, left.argument);
}
