import { MATERIAL } from '../model/parameters/material-parameters.ts';
import { ROTOR_COEFFICIENTS } from '../model/parameters/rotor-parameters.ts';
import { WHEEL_COEFFICIENTS } from '../model/parameters/wheel-parameters.ts';
import { toCase, valueAt, withValue } from '../scenario/operating-point.ts';
import { quantityNamed } from '../scenario/outcome/quantities.ts';
import { solvePoint } from '../scenario/outcome/solved.ts';
import { coefficientsInUse } from '../scenario/outcome/unconfirmed.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber, toShown } from '../scenario/units/display.ts';
import { limitingQuantity } from './limiting-quantity.ts';
import type { Measure } from './measure.ts';
import { sentence } from './text.ts';
import { pageUnit, pathInWords, quantityMeasure, quantityParts } from './words.ts';

/** How far one cause moves the answer. */
export interface Span {
  readonly name: string;
  /** Answer when the cause is lowered and when it is raised. */
  readonly low: number;
  readonly high: number;
  /** Words at the two ends, e.g. the values tried. */
  readonly lowWords?: string;
  readonly highWords?: string;
}

export interface SpansInput {
  readonly measure: Measure;
  /** Answer as it stands. */
  readonly centre: number;
  /** Largest first. */
  readonly spans: readonly Span[];
  readonly caption: string;
}

const CHANGE = 0.2;
const MOST = 12;

/**
 * How far each coefficient, lowered and raised by 20 %, moves one quantity; the strongest first.
 *
 * @param quantity as a column is named; that of the requirement which limits unless given
 */
export function swayView(scenario: Scenario, quantity: string = limitingQuantity(scenario)): SpansInput {
  const { name, argument } = quantityParts(quantity);
  const of = quantityNamed(name)!;
  const at = (each: Scenario) => {
    const point = solvePoint(toCase(each), { choke: false });
    return point.status === 'steady' ? toShown(of.of(point, argument), pageUnit(name)) : Number.NaN;
  };
  const centre = at(scenario);
  const spans = coefficientsInUse(scenario).flatMap((path) => {
    const value = valueAt(scenario, path);
    if (typeof value !== 'number' || value === 0) return [];
    const { value: shown } = scenario.provenance[path]!;
    const words = (factor: number) => formatNumber(shown * factor, 3);
    const low = at(withValue(scenario, path, value * (1 - CHANGE)));
    const up = Math.max(1, Math.min(1 + CHANGE, highestOf(path) / value));
    const high = at(withValue(scenario, path, value * up));
    return [{ name: pathInWords(path), low, high, lowWords: words(1 - CHANGE), highWords: words(up) }];
  });
  const reach = ({ low, high }: { low: number; high: number }) =>
    Math.max(
      ...[low, high].map((end) => (Number.isNaN(end) ? Number.POSITIVE_INFINITY : Math.abs(end - centre))),
    );
  const ordered = spans
    .filter((span) => reach(span) > 1e-9 * Math.abs(centre))
    .sort((a, b) => reach(b) - reach(a));
  const measure = quantityMeasure(quantity);
  return {
    measure,
    centre,
    spans: ordered.slice(0, MOST),
    caption: captionOf(ordered, measure.name, centre),
  };
}

function captionOf(spans: SpansInput['spans'], name: string, centre: number): string {
  const first = spans[0];
  if (!first) return `No coefficient moves ${name} here.`;
  return `Each coefficient lowered (hatched) and raised (full) by 20 % (no further than it may go), one at a time, about ${name} ${formatNumber(centre, 3)}. ${sentence(first.name)} moves it most: measure that first.`;
}

/** Highest value a coefficient may take, by the registry of parameters. */
function highestOf(path: string): number {
  const name = path.split('.').at(-1)!;
  const known = [...ROTOR_COEFFICIENTS, ...WHEEL_COEFFICIENTS, ...MATERIAL].find(
    (parameter) => parameter.name === name,
  );
  return known?.maximum ?? known?.exclusiveMaximum ?? Number.POSITIVE_INFINITY;
}
