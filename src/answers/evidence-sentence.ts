import { coefficientsInUse, unconfirmedCoefficients } from '../scenario/outcome/unconfirmed.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber, labelOf } from '../scenario/units/display.ts';
import { listed } from './join-words.ts';
import { swayView } from './one-at-a-time.ts';
import { pathInWords } from './words.ts';

/** Who reads a report. A customer's leaves coefficients, scenario text and the model out of the file. */
export type Audience = 'engineer' | 'customer';

/** Coefficients named beside the answer. */
const NAMED = 3;

/**
 * What an answer relies on, to be read beside it: the coefficients nobody measured that move it most.
 *
 * @param subject what relies on them, where `It` would be unclear
 * @param quantity what they move; that of the requirement which limits unless given
 */
export function standsOn(scenario: Scenario, audience: Audience, subject = 'It', quantity?: string): string {
  const fitted = scenario.calibration !== undefined;
  if (audience === 'customer') {
    return fitted
      ? `${subject} relies on coefficients fitted to trials, and on others that are assumed.`
      : `${subject} relies on breakage, cut and sharpness that are assumed, not measured on this material.`;
  }
  const open = unconfirmedCoefficients(scenario);
  const { measure, spans } = swayView(scenario, quantity);
  const strongest = spans.flatMap(({ name }) => {
    const path = open.find((each) => pathInWords(each) === name);
    if (path === undefined) return [];
    const { value, unit, label } = scenario.provenance[path]!;
    const text = `${name} ${formatNumber(value, 3)} ${labelOf(unit)}`.trim();
    return [label === 'given' ? text : `${text} (${label})`];
  });
  const named = strongest.slice(0, NAMED);
  const basis = unconfirmedWords(scenario, subject);
  return named.length > 0
    ? `${basis}; of these, ${measure.name} depends most on ${listed(named)}.`
    : `${basis}.`;
}

/**
 * How many coefficients in use are not confirmed, as every document says it: a sentence without its full stop.
 */
export function unconfirmedWords(scenario: Scenario, subject = 'It'): string {
  const all = coefficientsInUse(scenario).length;
  const open = unconfirmedCoefficients(scenario).length;
  return open === all
    ? `${subject} relies on ${open} coefficients not confirmed by any trial`
    : `${subject} relies on ${open} of ${all} coefficients not confirmed by any trial, measurement or publication`;
}
