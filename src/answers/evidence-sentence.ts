import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber, labelOf } from '../scenario/units/display.ts';
import { listed } from './join-words.ts';
import { coefficientsInUse, swayView } from './one-at-a-time.ts';
import { pathInWords } from './words.ts';

/** Who reads a report. A customer's leaves coefficients, scenario text and the model out of the file. */
export type Audience = 'engineer' | 'customer';

/** Labels of a coefficient that a measurement stands behind. */
const CONFIRMED: ReadonlySet<string> = new Set(['measured', 'fitted']);

/** Coefficients named beside the answer. */
const NAMED = 3;

/** What an answer relies on, to be read beside it: the coefficients nobody measured that move it most. */
export function standsOn(scenario: Scenario, audience: Audience): string {
  const fitted = scenario.calibration !== undefined;
  if (audience === 'customer') {
    return fitted
      ? 'It relies on coefficients fitted to trials, and on others that are assumed.'
      : 'It relies on breakage, cut and sharpness that are assumed, not measured on this material.';
  }
  const paths = coefficientsInUse(scenario);
  const open = paths.filter((path) => !CONFIRMED.has(scenario.provenance[path]!.label));
  const strongest = swayView(scenario, 'x95').spans.flatMap(({ name }) => {
    const path = open.find((each) => pathInWords(each) === name);
    if (path === undefined) return [];
    const { value, unit, label } = scenario.provenance[path]!;
    const text = `${name} ${formatNumber(value, 3)} ${labelOf(unit)}`.trim();
    return [label === 'given' ? text : `${text} (${label})`];
  });
  const named = strongest.slice(0, NAMED);
  const basis = fitted
    ? `${paths.length - open.length} coefficients are fitted to trials, ${open.length} are not`
    : `It relies on ${open.length} coefficients not confirmed by any trial`;
  return named.length > 0 ? `${basis}; of these, x95 depends most on ${listed(named)}.` : `${basis}.`;
}
